import { lureClasses, lures } from "../../../core/demo/lures.ts"
import { presentations } from "../../../core/demo/presentations.ts"
import { retrieves, rigs } from "../../../core/demo/rigs.ts"
import { allSpecies, anglers, spots, zone } from "../../../core/demo/scenario.ts"
import { storeSample } from "../../../core/demo/store.ts"
import { answerAsk } from "../../../core/questions/ask.ts"
import { makeService } from "../../../core/service/service.ts"
import type { Logbook } from "../../../core/store/logbook.ts"
import { add, type OpenChange } from "../../../core/store/put.ts"
import {
  api,
  type BookHandlers,
  type CallContext,
  type Input,
  type MethodName,
  type Output,
} from "../../../shared/api.ts"
import type { Draft } from "../../../shared/entities.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { plainTrip } from "../store/plainTrip.ts"
import { temporaryLogbook } from "../store/temporaryLogbook.ts"

/** A logbook with the sample's people, spots and tackle, US units and no trips, and calls to its service. */
export type DayBook = {
  readonly book: Logbook
  readonly call: <M extends MethodName & keyof BookHandlers>(method: M, input: Input<M>) => Promise<Output<M>>
  /** The id of a thing by its code. */
  readonly id: (code: string) => string
  readonly trip: (head?: Partial<Draft<"trip">>, anglers?: readonly string[]) => string
}

const context: CallContext = { signal: new AbortController().signal, progress: () => undefined }

export function dayBook(book: Logbook = temporaryLogbook(), empty = true): DayBook {
  const ids: ReadonlyMap<string, string> = empty ? book.change(fillNames) : new Map()
  const service = makeService(
    book,
    async (facts, ask, reader) => answerAsk(facts, ask, reader),
    () => undefined,
  )
  const id = (code: string): string => {
    const found = ["spot", "presentation", "species", "angler"].flatMap(
      (kind) => ids.get(`${kind} ${code}`) ?? [],
    )[0]
    if (found === undefined) throw new Error(`no code ${code}`)
    return found
  }
  return {
    book,
    id,
    call: async (method, input) => {
      return service[method](api[method].input.parse(input), context)
    },
    trip: (head = {}, who = ["tob"]) =>
      book.change((change) => {
        const trip = add(change, "trip", { ...plainTrip, counted_follows: 1, ...head })
        for (const angler of who) add(change, "trip_angler", { trip_id: trip, angler_id: id(angler) })
        return trip
      }),
  }
}

/** Puts the sample's names into a logbook; gives their ids by key, "spot md". */
const fillNames = (change: OpenChange): ReadonlyMap<string, string> =>
  storeSample(change, {
    anglers,
    spots,
    species: allSpecies,
    lure_classes: lureClasses,
    lures,
    rigs,
    retrieves,
    presentations,
    trips: [],
    trip_anglers: [],
    stops: [],
    stints: [],
    strikes: [],
    observations: [],
    settings: [
      { key: "home_zone", value: zone },
      { key: "units", value: JSON.stringify(presets.us) },
    ],
  })
