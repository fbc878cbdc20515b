import type { Draft } from "../../shared/entities.ts"
import type { TripPlan } from "./calendar.ts"
import type { Random } from "../stats/random.ts"
import { chance, pick } from "./draw.ts"
import type { TrueStrike } from "./fishing.ts"
import type { TrueStop } from "./outing.ts"
import { countsNoMisses, type Species } from "./scenario.ts"
import { readTo } from "./tradeUnits.ts"
import type { LureClass } from "./lures.ts"

/** The strikes of a stint that were written down, in order. `instant` gives an instant as finely as the trip was timed. */
export function recordStrikes(
  random: Random,
  plan: TripPlan,
  stint: TrueStop["stints"][number],
  instant: (at: number) => number | null,
): Readonly<Draft<"strike">>[] {
  return stint.strikes
    .filter((strike) => wasWritten(plan, stint, strike))
    .map((strike, ordinal) => ({
      stint_id: stint.key,
      ordinal,
      fate: strike.fate,
      species_id: chance(random, speciesKnown[strike.fate]) ? strike.species.key : null,
      at: plan.recorded === "live" && chance(random, 0.92) ? instant(momentOf(stint, strike)) : null,
      took_on: chance(random, tookOnNoted[plan.recorded])
        ? tookOn(random, stint.cast.presentation.className)
        : null,
      ...(strike.fate === "landed" ? landedFish(random, plan, strike) : {}),
    }))
}

function wasWritten(
  { completeness, recorded }: TripPlan,
  { cast }: TrueStop["stints"][number],
  { fate }: TrueStrike,
): boolean {
  if (completeness === "catches only") return fate === "landed"
  if (fate !== "missed") return true
  return recorded !== "later" && cast.anglers.every(({ key }) => key !== countsNoMisses)
}

const speciesKnown = { landed: 1, lost: 0.55, "bitten off": 0.5, missed: 0.15 }
const tookOnNoted = { live: 0.6, card: 0.2, "that night": 0.1, later: 0 }

/** A rest, or the turns of another presentation, lie between the minutes fished. Whole minutes, never past the end. */
export function momentOf(
  { start, end, rest, shared }: TrueStop["stints"][number],
  { minute }: TrueStrike,
): number {
  const pause = rest !== null && minute > rest.after ? rest.minutes : 0
  const clock = Math.floor(shared === null ? minute + pause : 2 * minute)
  return Math.min(start + clock * 60_000, end)
}

const moments = ["fall", "pause", "move"] as const
/** On the fall, on the pause, on the move; common practice, no source. */
const tookOnShares: Readonly<Record<LureClass, readonly [number, number, number]>> = {
  "soft plastic on a jig head": [0.55, 0.2, 0.25],
  "popping-cork rig": [0.3, 0.6, 0.1],
  "suspending twitch bait": [0.05, 0.75, 0.2],
  "slow-sinking twitch bait": [0.45, 0.35, 0.2],
  "topwater walker": [0, 0.25, 0.75],
  spoon: [0.15, 0, 0.85],
}

function tookOn(random: Random, className: LureClass): (typeof moments)[number] {
  const [fall, pause, move] = tookOnShares[className]
  return pick(random, moments, (moment) => ({ fall, pause, move })[moment])
}

function landedFish(random: Random, plan: TripPlan, { species, length_mm }: TrueStrike) {
  const near = plan.recorded === "live" || plan.recorded === "card"
  const step = near ? 0.5 : 1
  const measured = chance(random, species.group === "others" ? 0.4 : near ? 0.85 : 0.4)
  const keeps = chance(random, plan.purpose === "guided" ? 0.35 : 0.12)
  return {
    length_mm: measured ? readTo(length_mm, "mm", { unit: "in", step }) : null,
    kept: near ? (keeps && mayBeKept(species, length_mm) ? 1 : 0) : null,
    hooked_where: near && chance(random, 0.3) ? pick(random, ["lip", "lip", "lip", "deep"]) : null,
  } as const
}

/** By the boat's own rule. */
const mayBeKept = ({ own_min_length_mm, own_max_length_mm }: Species, length: number): boolean =>
  own_min_length_mm !== undefined &&
  own_min_length_mm !== null &&
  length >= own_min_length_mm &&
  length <= (own_max_length_mm ?? Number.POSITIVE_INFINITY)
