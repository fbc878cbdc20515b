import type { Handlers } from "../../shared/api.ts"
import type { Coded } from "../../shared/codes.ts"
import { counterLetters, fateLetters, tickMinutes } from "../../shared/notation.ts"
import { quantityText } from "../../shared/readerUnits.ts"
import type { TripCard } from "../../shared/tripCard.ts"
import { localDay } from "../conditions/localClock.ts"
import type { Logbook } from "../store/logbook.ts"
import { stopWaters } from "../store/read/tripDays.ts"
import { clockWords } from "../tape/clock.ts"
import { dayStrip, skyOf } from "../trips/dayStrip.ts"
import { livingCodes } from "./codes.ts"
import { contextOf, requireDay } from "./dayContext.ts"
import type { Queue } from "./queue.ts"
import { stationsOf } from "./stationsOf.ts"

type Area = Pick<Handlers, "trips.card">

const minuteMs = 60_000
const hourMs = 60 * minuteMs
const tickMs = tickMinutes * 60_000

/** The card for the boat: what its page is drawn from. */
export const cardHandlers = (book: Logbook, queue: Queue): Area => ({
  "trips.card": ({ trip, rods, hours }) => queue(async () => cardOf(book, trip, rods, hours)),
})

function cardOf(book: Logbook, trip: string, rods: number, hours: number): TripCard {
  const day = book.read((db) => requireDay(db, trip))
  const { names, reader, place } = book.read((db) => contextOf(db, day))
  const { date, zone, start_at } = day.head
  const civil = localDay(date, zone)
  const [stop] = book.read((db) => stopWaters(db, [trip])).filter(({ water }) => water !== null)
  const noon = civil.start + 12 * hourMs
  const strip =
    stop === undefined
      ? null
      : dayStrip(
          { date, zone, stops: [{ ...stop, start_at: noon, end_at: noon }], stints: [], fish: [] },
          skyOf(stationsOf(book)),
          reader,
        )
  const clock = (at: number): string => clockWords(Math.round(at / minuteMs) * minuteMs, zone)
  const first =
    start_at ?? strip?.light.find(({ word }) => word === "first light")?.from ?? civil.start + 6 * hourMs
  const from = Math.floor(first / tickMs) * tickMs
  const codes = book.read(livingCodes).filter(({ code, retired }) => code !== null && !retired)
  const of = (kind: Coded["kind"]) =>
    codes.filter((one) => one.kind === kind).map(({ code, mark, name }) => ({ code: code ?? "", mark, name }))
  const anglers = day.head.anglers.map((id) => names.nameOf(id))
  return {
    date,
    zone: place.zone,
    spot: stop?.spot ?? null,
    rods: Array.from({ length: rods }, (_, i) => (i < anglers.length ? (anglers[i] ?? "") : `rod ${i + 1}`)),
    rows: Array.from({ length: (hours * hourMs) / tickMs }, (_, i) => clock(from + i * tickMs)),
    light: (strip?.light ?? []).map(({ word, from: at }) => ({ word, at: clock(at) })),
    tide:
      strip === null || strip.tide === null
        ? null
        : {
            station: strip.tide.station,
            waters: strip.tide.waters.map(({ kind, at, height_m }) => ({
              kind,
              at: clock(at),
              height: quantityText(height_m, "m", reader),
            })),
          },
    spots: of("spot"),
    presentations: of("presentation"),
    species: of("species"),
    letters: [...Object.entries(fateLetters).slice(0, 3), ...Object.entries(counterWords)].map(
      ([letter, said]) => ({
        letter,
        said,
      }),
    ),
    cautions:
      "Tides are predicted, not observed, and not for navigation. Look at the marine forecast; thunder heard means go in. The agency's rules govern what may be kept.",
  }
}

const counterWords: Readonly<Record<keyof typeof counterLetters, string>> = {
  f: "follow",
  g: "hung up",
  k: "lure lost",
}
