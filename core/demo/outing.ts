import type { platforms } from "../../shared/vocabulary.ts"
import type { TripPlan } from "./calendar.ts"
import { chooseRun, chooseStay, chooseWhere } from "./choice.ts"
import type { Random } from "../stats/random.ts"
import { chance, pick, whole } from "./draw.ts"
import { type Angler, guide, type Spot } from "./scenario.ts"
import type { SkyAt } from "./sky.ts"
import { type Day, fishNext, shortestStint, type TrueStint } from "./stint.ts"
import type { DayWater } from "./water.ts"

/** A day as it really went; what was written down of it is another matter (record.ts). Instants in UTC ms. */
export type TrueTrip = {
  readonly plan: TripPlan
  readonly water: DayWater
  readonly stops: readonly TrueStop[]
}

export type TrueStop = {
  readonly key: string
  readonly spot: Spot
  readonly start: number
  readonly end: number
  readonly platform: (typeof platforms)[number]
  readonly whyLeft: string
  readonly tideRate: number | null
  readonly stints: readonly (TrueStint & { readonly key: string })[]
}

const minuteMs = 60_000
const worthAnotherStop = 25

/** Fishes one trip from its first cast to its last. */
export function fishTrip(random: Random, plan: TripPlan, water: DayWater, skyAt: SkyAt): TrueTrip {
  const day: Day = { random, plan, water, skyAt }
  const stops: TrueStop[] = []
  let end = plan.start + plan.minutes * minuteMs
  let clock = plan.start
  let stayedOn = false
  while (end - clock >= worthAnotherStop * minuteMs) {
    const spot = chooseWhere(random, plan.target.group, plan.season, stops.at(-1)?.spot ?? null)
    const stop = fishStop(day, { key: `${plan.key}.${stops.length + 1}`, spot, start: clock }, end)
    stops.push(stop)
    clock = stop.end + chooseRun(random) * minuteMs
    if (plan.purpose === "guided") continue
    if (givesUp(random, plan, stops, clock)) break
    if (!stayedOn && end - clock < worthAnotherStop * minuteMs && landedAt(stop) >= 3) {
      stayedOn = true
      end = clock + whole(random, 30, 60) * minuteMs
    }
  }
  return { plan, water, stops }
}

const landedAt = ({ stints }: TrueStop): number =>
  stints.reduce((sum, { strikes }) => sum + strikes.filter(({ fate }) => fate === "landed").length, 0)

/** Without a strike in more than half of the day, some go home. */
const givesUp = (random: Random, plan: TripPlan, stops: readonly TrueStop[], clock: number): boolean =>
  stops.every(({ stints }) => stints.every(({ strikes }) => strikes.length === 0)) &&
  clock - plan.start > 0.6 * plan.minutes * minuteMs &&
  chance(random, 0.25)

type At = Pick<TrueStop, "key" | "spot" | "start">

function fishStop(day: Day, at: At, tripEnd: number): TrueStop {
  const { random, plan, skyAt } = day
  const meant = Math.min(at.start + chooseStay(random) * minuteMs, tripEnd)
  const [first = [], ...others] = lanesOf(random, plan)
  const lead = fishLane(day, at, first, meant, true)
  const lanes = [lead, ...others.map((anglers) => fishLane(day, at, anglers, lead.end, false))]
  const lastStop = lead.end >= tripEnd - shortestStint * minuteMs
  return {
    ...at,
    end: lead.end,
    platform: pick(random, platformShares, ([, share]) => share)[0],
    whyLeft: lead.gaveUp ? "slow" : lastStop ? "end of the day" : pick(random, reasonsToMove),
    tideRate: skyAt(at.start, at.spot).tide_rate_m_h,
    stints: lanes
      .flatMap(({ stints }) => stints)
      .toSorted((a, b) => a.start - b.start)
      .map((stint, i) => ({ ...stint, key: `${at.key}.${i + 1}` })),
  }
}

const reasonsToMove = ["planned", "planned", "tide", "boats", "wind"]
const platformShares = [
  ["held", 0.45],
  ["anchored", 0.2],
  ["drifting", 0.2],
  ["poled", 0.15],
] as const satisfies readonly (readonly [TrueStop["platform"], number])[]

/** Who fishes which rods: anglers in one lane share a presentation, each lane changes on its own. */
function lanesOf(random: Random, { purpose, anglers }: TripPlan): readonly (readonly Angler[])[] {
  const [one, two] = anglers
  if (one === undefined) return []
  if (purpose === "guided") return guidedLanes(random, one, two)
  if (two !== undefined) return chance(random, 0.35) ? [[one], [two]] : [[one, two]]
  return chance(random, 0.12) ? [[one], [one]] : [[one]]
}

/** The guide lends a hand: beside one client on a rod of her own, beside two on a third. */
function guidedLanes(random: Random, one: Angler, two: Angler | undefined): readonly (readonly Angler[])[] {
  if (two === undefined) return chance(random, 0.4) ? [[one], [guide]] : [[one]]
  const kind = pick(random, ["apart", "together", "three"] as const, (name) => laneShares[name])
  if (kind === "apart") return [[one], [two]]
  return kind === "together" ? [[one, two]] : [[one, two, guide]]
}
const laneShares = { apart: 0.18, together: 0.5, three: 0.32 }

type Lane = { readonly stints: readonly TrueStint[]; readonly end: number; readonly gaveUp: boolean }

/** One presentation after the other until the stop ends; the leading lane may end it early when nothing bites. */
function fishLane(
  day: Day,
  { spot, start }: At,
  anglers: readonly Angler[],
  until: number,
  leads: boolean,
): Lane {
  const { random } = day
  const stints: TrueStint[] = []
  let clock = start
  let dryInARow = 0
  for (;;) {
    const left = Math.floor((until - clock) / minuteMs)
    if (left < shortestStint) return { stints, end: clock, gaveUp: false }
    for (const stint of fishNext(day, { spot, anglers, start: clock, left, before: stints.slice() })) {
      stints.push(stint)
      clock = stint.end
      dryInARow = stint.ended === "dry" ? dryInARow + 1 : 0
    }
    if (leads && dryInARow >= 2 && chance(random, 0.5)) return { stints, end: clock, gaveUp: true }
    if (until - clock >= (shortestStint + 2) * minuteMs) clock += whole(random, 0, 2) * minuteMs
  }
}
