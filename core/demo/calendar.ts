import { Temporal } from "temporal-polyfill"
import { sunPosition } from "../conditions/sun.ts"
import type { completenesses, purposes, recordings } from "../../shared/vocabulary.ts"
import { normal, type Random } from "../stats/random.ts"
import { between, chance, pick, waitingTime, whole } from "./draw.ts"
import { planted, seasonOf, type Season } from "./planted.ts"
import {
  type Angler,
  clients,
  flounder,
  guide,
  owner,
  redDrum,
  seatrout,
  type Species,
  zone,
} from "./scenario.ts"

/** One outing as it was meant and as it was written down: when, who, for how long, after what. */
export type TripPlan = {
  readonly key: string
  readonly date: string
  /** Days since 1 January of the first season. */
  readonly day: number
  readonly season: Season
  readonly purpose: (typeof purposes)[number]
  readonly anglers: readonly Angler[]
  readonly target: Species
  readonly start: number
  readonly minutes: number
  /** How many times as many strikes this trip brings as an average one. */
  readonly effect: number
  readonly redLetter: boolean
  readonly completeness: (typeof completenesses)[number]
  readonly recorded: (typeof recordings)[number]
  readonly counted: { readonly follows: boolean; readonly hang_ups: boolean }
}

const tripsAYear = 50
const tripsByMonth = [2.6, 2.6, 4.4, 5.1, 5.2, 4.7, 4.2, 4, 4.6, 4.8, 4.6, 3.2]
const catchesOnlyTrips = 3
const partialShare = 0.08
/** The sample never depends on today: its last season is this year. */
export const lastSeason = 2025
const minuteMs = 60_000

/** The trips of the `seasons` calendar years up to the last, in order of time. */
export function planTrips(random: Random, seasons: number): TripPlan[] {
  const first = Temporal.PlainDate.from({ year: lastSeason - seasons + 1, month: 1, day: 1 })
  const dates = Array.from({ length: seasons }, (_, i) => datesOf(random, first.year + i)).flat()
  const redLetter = redLetterTrip(random, dates)
  const special = specialTrips(random, dates.length, redLetter)
  return dates.map((date, i) =>
    planTrip(random, { date, number: i + 1, first, redLetter: i === redLetter, ...special(i) }),
  )
}

/**
 * So many days of a year, some months more than others, in order. Weighted sampling without replacement by exponential
 * waiting times: Efraimidis & Spirakis (2006) Information Processing Letters 97:181-185 (from memory).
 */
function datesOf(random: Random, year: number): Temporal.PlainDate[] {
  const start = Temporal.PlainDate.from({ year, month: 1, day: 1 })
  const days = Array.from({ length: start.daysInYear }, (_, i) => {
    const date = start.add({ days: i })
    return { date, i, wait: waitingTime(random, (tripsByMonth[date.month - 1] ?? 0) / date.daysInMonth) }
  })
  return days
    .toSorted((a, b) => a.wait - b.wait)
    .slice(0, tripsAYear)
    .toSorted((a, b) => a.i - b.i)
    .map(({ date }) => date)
}

/** One trip of the last fall. */
function redLetterTrip(random: Random, dates: readonly Temporal.PlainDate[]): number {
  const falls = dates.flatMap((date, i) =>
    date.year === lastSeason && (date.month === 10 || date.month === 11) ? [i] : [],
  )
  return pick(random, falls)
}

/** Which trips are not complete: three catches-only days, and a share of partial ones; never the red-letter day. */
function specialTrips(random: Random, trips: number, redLetter: number) {
  const free = new Set(Array.from({ length: trips }, (_, i) => i).filter((i) => i !== redLetter))
  const take = (count: number): ReadonlySet<number> => {
    const taken = new Set<number>()
    while (taken.size < count) {
      const next = pick(random, [...free])
      free.delete(next)
      taken.add(next)
    }
    return taken
  }
  const catchesOnly = take(catchesOnlyTrips)
  const partial = take(Math.round(partialShare * trips))
  return (i: number): { completeness: TripPlan["completeness"] } => {
    if (catchesOnly.has(i)) return { completeness: "catches only" }
    return { completeness: partial.has(i) ? "partial" : "complete" }
  }
}

type Day = {
  readonly date: Temporal.PlainDate
  readonly number: number
  readonly first: Temporal.PlainDate
  readonly redLetter: boolean
  readonly completeness: TripPlan["completeness"]
}

function planTrip(random: Random, { date, number, first, redLetter, completeness }: Day): TripPlan {
  const season = seasonOf(date.month)
  const crew = redLetter ? ownCrew([guide, owner]) : crewOf(random, season)
  const guided = crew.purpose === "guided"
  const minutes = guided ? pick(random, [240, 360]) : whole(random, 36, 72) * 5
  return {
    key: `trip ${String(number).padStart(3, "0")}`,
    date: date.toString(),
    day: first.until(date).days,
    season,
    ...crew,
    target: redLetter ? seatrout : pick(random, targets, ([, weights]) => weights[season])[0],
    start: startOf(random, date, minutes, redLetter),
    minutes,
    effect: effectOf(random, redLetter, completeness),
    redLetter,
    completeness,
    recorded: redLetter ? "live" : recordedHow(random),
    counted: { follows: chance(random, 0.2), hang_ups: chance(random, 0.9) },
  }
}

const targets: readonly (readonly [Species, Readonly<Record<Season, number>>])[] = [
  [seatrout, { winter: 0.35, spring: 0.4, summer: 0.35, fall: 0.4 }],
  [redDrum, { winter: 0.65, spring: 0.5, summer: 0.5, fall: 0.5 }],
  [flounder, { winter: 0, spring: 0.1, summer: 0.15, fall: 0.1 }],
]

/** Log-normal with mean 1; photographs without a record come from good days. */
function effectOf(random: Random, redLetter: boolean, completeness: TripPlan["completeness"]): number {
  if (redLetter) return planted.redLetterEffect
  const usual = Math.exp(planted.tripSpread * normal(random) - planted.tripSpread ** 2 / 2)
  return completeness === "catches only" ? 1 + usual : usual
}

const ownCrew = (anglers: readonly Angler[]) => ({ purpose: "own" as const, anglers })

function crewOf(random: Random, season: Season): Pick<TripPlan, "purpose" | "anglers"> {
  const kind = pick(random, crews, ({ share }) => share).kind
  if (kind === "alone") return ownCrew([owner])
  if (kind === "both") return ownCrew([guide, owner])
  if (kind === "scouting") return { purpose: "scouting", anglers: [guide] }
  if (kind === "teaching") return { purpose: "teaching", anglers: [guide, pick(random, clients)] }
  const one = pick(random, clients)
  const two = season === "winter" ? chance(random, 0.5) : chance(random, 0.75)
  if (!two) return { purpose: "guided", anglers: [one] }
  return { purpose: "guided", anglers: [one, pick(random, clients, (client) => (client === one ? 0 : 1))] }
}

const crews = [
  { kind: "alone", share: 0.24 },
  { kind: "both", share: 0.24 },
  { kind: "scouting", share: 0.07 },
  { kind: "teaching", share: 0.05 },
  { kind: "guided", share: 0.4 },
] as const

function recordedHow(random: Random): TripPlan["recorded"] {
  return pick(random, recordingShares, ([, share]) => share)[0]
}
const recordingShares = [
  ["live", 0.68],
  ["card", 0.12],
  ["that night", 0.13],
  ["later", 0.07],
] as const satisfies readonly (readonly [TripPlan["recorded"], number])[]

/** Half of the trips start at first light, some end at last light, the rest lie between. To the minute. */
function startOf(random: Random, date: Temporal.PlainDate, minutes: number, redLetter: boolean): number {
  const day = redLetter ? 0 : between(random, 0, 1)
  const midnight = date.toZonedDateTime({ timeZone: zone, plainTime: "00:00" })
  if (day < 0.55) return firstLight(midnight.epochMilliseconds) + whole(random, -6, 2) * minuteMs
  const clock = day < 0.8 ? between(random, 8.5, 11) : between(random, 18.3, 19.8) - minutes / 60
  return midnight.epochMilliseconds + Math.round(clock * 60) * minuteMs
}

/** The minute in which civil twilight begins, looked for from 4 h after midnight. */
function firstLight(midnight: number): number {
  let [low, high] = [midnight + 240 * minuteMs, midnight + 540 * minuteMs]
  while (high - low > minuteMs) {
    const middle = low + Math.floor((high - low) / 2 / minuteMs) * minuteMs
    if (sunPosition(middle, homeWaters).altitude_deg < -6) low = middle
    else high = middle
  }
  return high
}
const homeWaters = { lat: 31.39, lon: -81.3 }
