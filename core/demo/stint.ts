import { lightUnder } from "../conditions/light.ts"
import { sunPosition } from "../conditions/sun.ts"
import type { changeReasons } from "../../shared/vocabulary.ts"
import type { TripPlan } from "./calendar.ts"
import { choosePatience, choosePause, chooseWhat } from "./choice.ts"
import type { Random } from "../stats/random.ts"
import { chance, whole } from "./draw.ts"
import { fish, type Fished } from "./fishing.ts"
import type { Angler, Spot } from "./scenario.ts"
import type { SkyAt } from "./sky.ts"
import type { Cast, Water } from "./strikeRates.ts"
import type { Presentation } from "./presentations.ts"
import { type DayWater, waterTempAt } from "./water.ts"

/** One presentation fished at a stop, as it really went. Instants in UTC ms. */
export type TrueStint = Fished & {
  readonly cast: Cast
  readonly start: number
  readonly end: number
  /** A rest after so many minutes of fishing. */
  readonly rest: { readonly after: number; readonly minutes: number } | null
  /** Set where two presentations took turns over one stretch: the name of the pair. */
  readonly shared: string | null
  readonly whyChanged: (typeof changeReasons)[number]
}

/** A day on the water and all that decides it. */
export type Day = {
  readonly random: Random
  readonly plan: TripPlan
  readonly water: DayWater
  readonly skyAt: SkyAt
}

/** Where and when somebody ties on, how many minutes are left there, and what the same rods did there before. */
export type TyingOn = {
  readonly spot: Spot
  readonly anglers: readonly Angler[]
  readonly start: number
  readonly left: number
  readonly before: readonly TrueStint[]
}

const minuteMs = 60_000
/** Nothing shorter is fished or logged. */
export const shortestStint = 10
const longestStint = 60
const inTurnShare = 0.03

/** The next stint of some rods, or the two of presentations that take turns. */
export function fishNext(day: Day, at: TyingOn): TrueStint[] {
  const { random, plan } = day
  const { spot, anglers, start, left, before } = at
  const situation = {
    light: lightUnder(sunPosition(start + shortestStint * minuteMs, spot)),
    firstAtStop: before.length === 0,
    redLetter: plan.redLetter,
    previous: before.at(-1)?.cast.presentation ?? null,
  }
  const what = chooseWhat(random, anglers, situation)
  if (situation.light === "first light") {
    const toSunrise = Math.min(left, minutesToSunrise(start, spot))
    return [fishOne(day, { ...at, left: toSunrise }, what, toSunrise === left ? "moved" : "planned")]
  }
  if (left < 30 || plan.redLetter || !chance(random, inTurnShare)) return [fishOne(day, at, what, "moved")]
  return fishInTurn(day, at, [what, chooseWhat(random, anglers, { ...situation, previous: what })])
}

/** Everybody changes when the sun comes up, so that no stint at first light reaches into the day. */
function minutesToSunrise(start: number, spot: Spot): number {
  let minutes = shortestStint
  while (lightUnder(sunPosition(start + (minutes + 1) * minuteMs, spot)) === "first light") minutes += 1
  return minutes
}

function fishOne(
  day: Day,
  at: TyingOn,
  what: Presentation,
  whenNothingIsLeft: TrueStint["whyChanged"],
): TrueStint {
  const { random, plan } = day
  const { anglers, start, left } = at
  const patience = choosePatience(random, anglers, what)
  const seen = chance(random, 0.04) ? whole(random, shortestStint, 25) : Number.POSITIVE_INFINITY
  const meant = left - patience.most < shortestStint ? Math.min(left, longestStint) : patience.most
  const rests = left - meant >= 20 && meant >= 40 && chance(random, 0.15)
  const most = Math.min(meant, seen, left)
  const middle = start + (Math.min(most, patience.dry * 1.3) / 2) * minuteMs
  const cast = castOf(day, at, what)
  const fished = fish(random, waterAt(day, at.spot, middle), cast, plan.effect, { ...patience, most })
  const rest = rests && fished.minutes >= 30 ? { after: 20, minutes: whole(random, 1, 2) * 5 } : null
  const end = start + (fished.minutes + (rest?.minutes ?? 0)) * minuteMs
  const timeUp = most === seen ? "saw something" : most === left ? whenNothingIsLeft : "planned"
  const whyChanged = { time: timeUp, dry: "slow", "lure lost": "lost or fouled" } as const
  return { ...fished, cast, start, end, rest, shared: null, whyChanged: whyChanged[fished.ended] }
}

/** Two presentations in turn over one stretch of water, half of the time each. */
function fishInTurn(day: Day, at: TyingOn, pair: readonly Presentation[]): TrueStint[] {
  const { random, plan } = day
  const { spot, start, left } = at
  const half = Math.floor(Math.min(left, whole(random, 30, 50)) / 2)
  const water = waterAt(day, spot, start + half * minuteMs)
  return pair.map((what) => {
    const cast = castOf(day, at, what)
    return {
      ...fish(random, water, cast, plan.effect, { most: half, dry: half }),
      cast,
      start,
      end: start + 2 * half * minuteMs,
      rest: null,
      shared: `${plan.key} ${start}`,
      whyChanged: "planned",
    }
  })
}

const castOf = ({ random, water }: Day, { anglers, before }: TyingOn, presentation: Presentation): Cast => ({
  presentation,
  pause_s: choosePause(random, presentation, water.water_temp_c),
  anglers,
  firstAtStop: before.length === 0,
})

const waterAt = ({ plan, water, skyAt }: Day, spot: Spot, when: number): Water => ({
  season: plan.season,
  target: plan.target.group,
  spot,
  sky: skyAt(when, spot),
  visibility: water.visibility,
  water_temp_c: waterTempAt(water, plan.start, when),
})
