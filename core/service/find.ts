import type { Handlers } from "../../shared/api.ts"
import { factorOf, type FactorId } from "../../shared/factors.ts"
import { type FindVocabulary, readSearch } from "../find/readSearch.ts"
import type { Logbook } from "../store/logbook.ts"
import type { OpenChange } from "../store/put.ts"
import { findTrips } from "../store/read/findTrips.ts"
import { wordsOf } from "../store/read/names.ts"
import type { Queue } from "./queue.ts"
import { settingsIn } from "./settings.ts"

type Area = Pick<Handlers, "trips.find">

/** Trips by words and by factors. */
export const findHandlers = (book: Logbook, queue: Queue): Area => ({
  "trips.find": ({ text }) =>
    queue(async () =>
      book.read((db) => {
        const { wish, said } = readSearch(text, vocabularyOf(db), settingsIn(db).units)
        return { trips: findTrips(db, wish), said }
      }),
    ),
})

/** Factors by whose words trips are looked for, those most likely meant first. */
const fixed: readonly FactorId[] = [
  "light",
  "visibility",
  "tide_stage",
  "current_stage",
  "platform",
  "sight",
  "water_movement",
  "bait",
  "colour",
]
const own = [
  "lure_class",
  "spot",
  "angler",
  "presentation",
  "lure",
  "structure",
  "ground",
  "retrieve_style",
  "profile",
  "bait_seen",
] as const

function vocabularyOf(db: OpenChange["db"]): FindVocabulary {
  return [
    { factor: "species" as const, levels: wordsOf(db, "species") },
    ...own.map((factor) => ({ factor, levels: wordsOf(db, factor) })),
    ...fixed.map((factor) => {
      const row = factorOf(factor)
      return { factor, levels: row.kind === "categorical" ? (row.levels ?? []) : [] }
    }),
  ]
}
