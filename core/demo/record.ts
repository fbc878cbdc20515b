import type { Draft } from "../../shared/entities.ts"
import type { TripPlan } from "./calendar.ts"
import { poisson, type Random } from "../stats/random.ts"
import { between, chance } from "./draw.ts"
import type { TrueStop, TrueTrip } from "./outing.ts"
import { readingsOf } from "./readings.ts"
import { momentOf, recordStrikes } from "./recordStrikes.ts"
import type { Keyed } from "./rows.ts"
import { countsNoMisses, zone } from "./scenario.ts"
import { readTo } from "./tradeUnits.ts"

type TrueStint = TrueStop["stints"][number]

/** The rows of one trip, and which of its stints were written down. */
export type RecordedTrip = {
  readonly trip: Keyed<"trip">
  readonly trip_anglers: readonly Readonly<Draft<"trip_angler">>[]
  readonly stops: readonly Keyed<"stop">[]
  readonly stints: readonly Keyed<"stint">[]
  readonly strikes: readonly Readonly<Draft<"strike">>[]
  readonly observations: readonly Readonly<Draft<"observation">>[]
  readonly written: readonly TrueStint[]
}

const minuteMs = 60_000

/** Writes a day down as its people would: to the minute, on a card, from memory, in part, or only its fish. */
export function recordTrip(random: Random, day: TrueTrip): RecordedTrip {
  const { plan } = day
  const stops = writtenStops(random, day)
  const written = stops.flatMap(({ stints }) => stints)
  return {
    trip: tripRow(day, stops),
    trip_anglers: plan.anglers.map(({ key }) => ({ trip_id: plan.key, angler_id: key })),
    stops: stops.map((stop, i) => stopRow(plan, stop, i)),
    stints: stops
      .flatMap((stop) => stop.stints.map((stint) => ({ stop, stint })))
      .map(({ stop, stint }, i) => stintRow(random, plan, stop, stint, i)),
    strikes: written.flatMap((stint) => recordStrikes(random, plan, stint, instantOf(plan))),
    observations: readingsOf(random, day, stops),
    written,
  }
}

/** What was written: everything; of a partial trip its first part; of a catches-only day the stints with a fish. */
function writtenStops(random: Random, { plan, stops }: TrueTrip): readonly TrueStop[] {
  if (plan.completeness === "complete") return stops
  const until = plan.start + between(random, 0.4, 0.75) * plan.minutes * minuteMs
  const kept = (stint: TrueStint) =>
    plan.completeness === "partial"
      ? stint.end <= until
      : stint.shared === null && stint.strikes.some(({ fate }) => fate === "landed")
  return stops.flatMap((stop) => {
    const stints = stop.stints.filter(kept)
    return stints.length === 0 ? [] : [{ ...stop, stints }]
  })
}

/** How finely instants were written down, in minutes; null where nobody looked at a clock. */
function clockStep(plan: TripPlan): number | null {
  if (plan.completeness === "catches only") return null
  return { live: 1, "that night": 5, card: 10, later: null }[plan.recorded]
}

const instantOf =
  (plan: TripPlan) =>
  (at: number): number | null => {
    const step = clockStep(plan)
    return step === null ? null : Math.round(at / (step * minuteMs)) * step * minuteMs
  }

/** What was being counted; from memory nobody counts misses, follows or hang-ups, and photographs count nothing. */
function countedOn({ completeness, recorded, counted }: TripPlan) {
  const something = completeness !== "catches only"
  const closely = something && recorded !== "later"
  return {
    misses: closely,
    losses: something,
    landed: something,
    follows: closely && counted.follows,
    hang_ups: closely && counted.hang_ups,
  }
}

const flag = (value: boolean): 0 | 1 => (value ? 1 : 0)

function tripRow({ plan }: TrueTrip, stops: readonly TrueStop[]): Keyed<"trip"> {
  const instant = instantOf(plan)
  const counted = countedOn(plan)
  const last = stops.at(-1)
  return {
    key: plan.key,
    date: plan.date,
    zone,
    start_at: instant(plan.start),
    end_at: plan.completeness === "complete" && last !== undefined ? instant(last.end) : null,
    target_species_id: plan.target.key,
    purpose: plan.purpose,
    completeness: plan.completeness,
    counted_misses: flag(counted.misses),
    counted_losses: flag(counted.losses),
    counted_follows: flag(counted.follows),
    counted_hang_ups: flag(counted.hang_ups),
    counted_landed: flag(counted.landed),
    recorded: plan.recorded,
    status: "closed",
    grouping: "said",
    notes: noteOf(plan),
  }
}

function noteOf({ redLetter, completeness }: TripPlan): string | null {
  if (redLetter) return "Everything ate, on anything. The gold spoon was on first and stayed on."
  if (completeness === "partial") return "Stopped writing when it got busy."
  return completeness === "catches only" ? "From the photographs only." : null
}

/** From memory, arriving and leaving are known to a quarter of an hour. */
const rememberedMs = 15 * minuteMs
const rounded = (at: number, stepMs: number): number => Math.round(at / stepMs) * stepMs

/**
 * When a stop was reached and left, as far as it was written down: from memory roughly, of a catches-only day by the times of
 * the photographs, and of a trip whose writing stopped no end.
 */
function visit(
  plan: TripPlan,
  { start, end, stints }: TrueStop,
): { start_at: number | null; end_at: number | null } {
  if (plan.completeness === "catches only") {
    const taken = stints.flatMap((stint) =>
      stint.strikes.filter(({ fate }) => fate === "landed").map((strike) => momentOf(stint, strike)),
    )
    return { start_at: rounded(Math.min(...taken), minuteMs), end_at: rounded(Math.max(...taken), minuteMs) }
  }
  const whole = plan.completeness === "complete"
  if (plan.recorded === "later") {
    const left = whole ? end : Math.max(...stints.map((stint) => stint.end))
    return { start_at: rounded(start, rememberedMs), end_at: rounded(left, rememberedMs) }
  }
  const instant = instantOf(plan)
  return { start_at: instant(start), end_at: whole ? instant(end) : null }
}

function stopRow(plan: TripPlan, stop: TrueStop, ordinal: number): Keyed<"stop"> {
  const whole = plan.completeness === "complete"
  return {
    key: stop.key,
    trip_id: plan.key,
    ordinal,
    spot_id: stop.spot.key,
    ...visit(plan, stop),
    platform: stop.platform,
    why_left: whole && plan.recorded !== "later" ? stop.whyLeft : null,
  }
}

function stintRow(
  random: Random,
  plan: TripPlan,
  stop: TrueStop,
  stint: TrueStint,
  ordinal: number,
): Keyed<"stint"> {
  const { cast } = stint
  const [angler, another] = cast.anglers
  const counted = countedOn(plan)
  return {
    key: stint.key,
    stop_id: stop.key,
    ordinal,
    presentation_id: cast.presentation.key,
    angler_id: another === undefined ? (angler?.key ?? null) : null,
    ...effortOf(plan, stint),
    rods: cast.anglers.length,
    sight: plan.recorded === "later" ? null : sightOf(random, stop),
    fished_depth_m: chance(random, 0.3)
      ? readTo(stop.spot.usual_depth_m * between(random, 0.5, 1), "m", { unit: "ft", step: 0.5 })
      : null,
    pause_s: cast.pause_s === cast.presentation.pause_s ? null : cast.pause_s,
    counted_misses: counted.misses && cast.anglers.some(({ key }) => key === countsNoMisses) ? 0 : null,
    follows: counted.follows ? poisson(random, (0.4 * stint.minutes * cast.anglers.length) / 60) : null,
    hang_ups: counted.hang_ups ? stint.hangUps : null,
    lures_lost: counted.hang_ups ? stint.luresLost : null,
    why_changed: chance(random, plan.recorded === "live" ? 0.9 : 0.5) ? stint.whyChanged : null,
  }
}

/** A few fish of the marsh edge are seen before they are cast to. */
const sightOf = (random: Random, { spot, platform }: TrueStop): "blind" | "sight" =>
  spot.structure === "cordgrass edge" && platform === "poled" && chance(random, 0.4) ? "sight" : "blind"

function effortOf(plan: TripPlan, stint: TrueStint): Partial<Draft<"stint">> {
  if (plan.completeness === "catches only") return {}
  const instant = instantOf(plan)
  const [start_at, end_at] = [instant(stint.start), instant(stint.end)]
  if (start_at === null || end_at === null)
    return {
      effort_minutes: Math.max(10, Math.round(stint.minutes / 10) * 10),
      effort_source: stint.shared === null ? "given" : "shared",
      share_group: stint.shared,
    }
  if (stint.shared !== null)
    return {
      start_at,
      end_at,
      effort_minutes: stint.minutes,
      effort_source: "shared",
      share_group: stint.shared,
    }
  return {
    start_at,
    end_at,
    break_minutes: stint.rest?.minutes ?? null,
    effort_source: plan.recorded === "card" ? "ticked" : "clocked",
  }
}
