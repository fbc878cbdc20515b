import { below, negativeBinomial, normal, type Random, uniform } from "../../../core/stats/random.ts"
import type { StintRecord } from "../../unit/questions/factsOf.ts"
import { dryStint } from "./dryStint.ts"
import { unrelatedOfDay, unrelatedOfStint } from "./unrelated.ts"

/** The lure classes of a made-up logbook. */
export const LURES = ["soft plastic on a jig head", "popping-cork rig", "spoon"] as const

/**
 * What a made-up logbook is drawn from. Days differ by a log-normal spread, fish clump within a stint (negative binomial,
 * `theta`), season, light, tide, spot, angler and the order in a stop each have their effect, and so has the lure class.
 */
export type World = {
  readonly trips: number
  readonly spread: number
  readonly theta: number
  /** Fish landed per rod-hour in ordinary water on a day without spread. */
  readonly rate: number
  /** What each lure class gives, as a ratio. */
  readonly lures: readonly [number, number, number]
  /** Standard deviation of each lure class's own log-normal luck on a day. */
  readonly lureByTrip: number
  readonly anglers: number
  /** How many times as much the best angler lands as the others. */
  readonly bestAngler: number
  /** How many times as much first light gives as the day. */
  readonly firstLight: number
  /** How the lure of a stint is chosen. */
  readonly choice: Choice
  /** On one day out of all everything gives so many times as much, and the first lure class alone is thrown. */
  readonly redLetter: number
  /** How much longer pauses, in seconds, multiply the rate by a degree of water colder than 20 °C: exp of this times both. */
  readonly pauseByCold: number
}

/**
 * "mixed": by a draw a stint; "a lure a trip": by a draw a trip; "at first light": the first class at first light, the others by
 * day, nine times in ten; "favourite": the best angler throws the first class four times in five, the others once in five;
 * "dry" and "dry, favourite": a lure is changed after a quarter of an hour without a fish, the first class in the second after
 * half an hour.
 */
export type Choice = "mixed" | "a lure a trip" | "at first light" | "favourite" | "dry" | "dry, favourite"

const SPOTS = ["Mill Drain", "Long Rake", "Shell Bend", "North Rocks"] as const
const SPOT_EFFECTS = [0.2, 0, -0.2, 0.1] as const
const ANGLERS = ["Nell", "Tobin", "Bea"] as const
const STINT_HOURS = [0.25, 0.4, 0.5, 0.75] as const
const STOPS_A_TRIP = 3
const STINTS_A_STOP = 3
const UNSPOOKED = 0.25
const HOURS_OF_FIRST_LIGHT = 1.2

type Day = {
  readonly trip: string
  readonly index: number
  readonly dayOfYear: number
  readonly waterTemp: number
  readonly tideAtStart: number
  readonly startHour: number
  readonly effect: number
  readonly lureLuck: readonly number[]
  readonly lureOfDay: number
  readonly redLetter: boolean
  readonly angler: number
  readonly weather: StintRecord["factors"]
}

/** The stints of one made-up logbook. */
export function drawWorld(random: Random, world: World): StintRecord[] {
  const redLetterDay = world.redLetter === 1 ? -1 : below(random, world.trips)
  return Array.from({ length: world.trips }, (_, index) =>
    drawDay(random, world, index, redLetterDay),
  ).flatMap((day) => fishDay(random, world, day))
}

function drawDay(random: Random, world: World, index: number, redLetterDay: number): Day {
  const dayOfYear = 1 + below(random, 365)
  return {
    trip: `trip ${index + 1}`,
    index,
    dayOfYear,
    waterTemp: 20 + 9 * Math.sin((2 * Math.PI * (dayOfYear - 110)) / 365) + 1.5 * normal(random),
    tideAtStart: 2 * Math.PI * uniform(random),
    startHour: uniform(random) < 0.5 ? 6 : 11,
    effect: world.spread * normal(random) + (index === redLetterDay ? Math.log(world.redLetter) : 0),
    lureLuck: LURES.map(() => world.lureByTrip * normal(random)),
    lureOfDay: below(random, LURES.length),
    redLetter: index === redLetterDay,
    angler: below(random, world.anglers),
    weather: unrelatedOfDay(random),
  }
}

function fishDay(random: Random, world: World, day: Day): StintRecord[] {
  const stints: StintRecord[] = []
  let clock = 0
  for (let stop = 0; stop < STOPS_A_TRIP; stop++) {
    const spot = below(random, SPOTS.length)
    let lure = -1
    for (let order = 0; order < STINTS_A_STOP; order++) {
      const firstLight = day.startHour < 8 && clock < HOURS_OF_FIRST_LIGHT
      const angler = world.choice === "favourite" ? below(random, world.anglers) : day.angler
      lure = chooseLure(random, world, day, { firstLight, angler, before: lure })
      const pause = 1 + below(random, 6)
      const tide = (day.tideAtStart + 0.5 * clock) % (2 * Math.PI)
      const logRate =
        Math.log(world.rate) +
        day.effect +
        (day.lureLuck[lure] ?? 0) +
        Math.log(world.lures[lure] ?? 1) +
        (firstLight ? Math.log(world.firstLight) : 0) +
        (angler === 0 ? Math.log(world.bestAngler) : 0) +
        (SPOT_EFFECTS[spot] ?? 0) +
        (order === 0 ? UNSPOOKED : 0) +
        0.3 * Math.cos(tide - 1.2) -
        0.004 * (day.waterTemp - 23) ** 2 +
        world.pauseByCold * (20 - day.waterTemp) * (pause - 3.5)
      const { hours, fish } = fishStint(random, world, lure, Math.exp(logRate))
      stints.push({
        trip: day.trip,
        stop: day.index * STOPS_A_TRIP + stop,
        hours,
        fish,
        factors: {
          lure_class: LURES[lure] ?? "",
          light: firstLight ? "first light" : "day",
          angler: ANGLERS[angler] ?? "",
          spot: SPOTS[spot] ?? "",
          order_in_stop: order + 1,
          water_temp_c: day.waterTemp,
          day_of_year: day.dayOfYear,
          tide_phase_rad: tide,
          hour_local: day.startHour + clock,
          pause_s: pause,
          ...day.weather,
          ...unrelatedOfStint(random),
        },
      })
      clock += hours + 0.1
    }
  }
  return stints
}

function fishStint(random: Random, { choice, theta }: World, lure: number, rate: number) {
  if (choice === "dry" || choice === "dry, favourite")
    return dryStint(random, rate, theta, choice === "dry, favourite" && lure === 0 ? 0.5 : 0.25)
  const hours = STINT_HOURS[below(random, STINT_HOURS.length)] ?? 0.5
  return { hours, fish: negativeBinomial(random, hours * rate, theta) }
}

function chooseLure(
  random: Random,
  { choice }: World,
  day: Day,
  { firstLight, angler, before }: { firstLight: boolean; angler: number; before: number },
): number {
  if (day.redLetter) return 0
  const other = 1 + below(random, LURES.length - 1)
  const first = (share: number): number => (uniform(random) < share ? 0 : other)
  switch (choice) {
    case "mixed":
      return below(random, LURES.length)
    case "a lure a trip":
      return day.lureOfDay
    case "at first light":
      return first(firstLight ? 0.9 : 0.1)
    case "favourite":
      return first(angler === 0 ? 0.8 : 0.2)
    case "dry":
    case "dry, favourite":
      return before < 0 ? below(random, LURES.length) : (before + other) % LURES.length
  }
}
