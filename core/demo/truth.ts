import type { Expected } from "./fishing.ts"
import type { TrueStop } from "./outing.ts"
import type { TripPlan } from "./calendar.ts"
import { planted } from "./planted.ts"
import type { FactorId } from "../../shared/factors.ts"
import type { Outcome } from "../../shared/questions.ts"

/**
 * What a stint should have given by the planted truth, on a trip of average effect, by species; on its own trip strikes,
 * hook-ups and landed fish are `trip_effect` times that, hang-ups the same. `rod_hours` as really fished.
 */
export type StintTruth = Expected & {
  readonly stint: string
  readonly trip_effect: number
  readonly rod_hours: number
}

/** Something staged that misleads whoever compares as fished. */
type Trap = { readonly name: string; readonly what: string; readonly really: string }

/** A question about levels that nothing staged touches: as fished, they differ by what is planted and by chance. */
export type Unconfounded = {
  readonly outcome: Outcome
  readonly by: FactorId
  readonly where: readonly { readonly factor: FactorId; readonly level: string }[]
  readonly why: string
}

/** Everything the simulator knew, as plain values. */
export type Truth = {
  readonly seed: number
  readonly planted: typeof planted
  /** Strikes drawn by each angler beside a middling one, by name; of several on one presentation their mean. */
  readonly skill: Readonly<Record<string, number>>
  readonly traps: readonly Trap[]
  readonly unconfounded: readonly Unconfounded[]
  readonly stints: readonly StintTruth[]
}

export const truthOf = (
  plan: TripPlan,
  { key, expected, minutes, cast }: TrueStop["stints"][number],
): StintTruth => ({
  stint: key,
  trip_effect: plan.effect,
  rod_hours: (minutes / 60) * cast.anglers.length,
  ...expected,
})

export const traps: readonly Trap[] = [
  {
    name: "only at dawn",
    what: "The topwater walkers are thrown at first light only, when everything bites best.",
    really: "A walker draws a quarter more strikes than a jig, hooks and lands fewer: 0.69 of a jig's fish.",
  },
  {
    name: "the better angler's favourite",
    what: "Nell, who draws a third more strikes with anything, fishes the natural suspending minnow most.",
    really: "It draws as many strikes as a jig and lands 0.94 as many fish.",
  },
  {
    name: "one red-letter day",
    what: "The spoon, hardly used otherwise, was tied on for a day in the last fall on which everything ate.",
    really: "A spoon draws 0.9 of a jig's strikes and lands 0.75 as many fish.",
  },
  {
    name: "changed because nothing bites",
    what: "A lure is changed after half an hour without a bite, a favourite after most of an hour: poor days fill the favourite's hours.",
    really:
      "The natural suspending minnow and the short-dropped cork are as good as the others of their class.",
  },
  {
    name: "the unspooked fish",
    what: "The first lure at a stop meets fish that have seen nothing; the slow-sinking stick is thrown first.",
    really: "It draws as many strikes as a jig; first stints draw 1.59 times as many as later ones.",
  },
  {
    name: "pauses in cold water",
    what: "Longer pauses pay below 20 degC and cost above it. More fish come in the warm months, when pauses are shorter: over the whole year the short pause looks best.",
    really: "Ten seconds instead of two: 1.9 times the strikes at 12 degC, half of them at 29.",
  },
  {
    name: "a client who counts no misses",
    what: "Corwin's stints hold no missed strike; their `counted_misses` is 0.",
    really: "His share of hooked strikes is unknown, not 1.",
  },
  {
    name: "trips that are not whole",
    what: "8% of the trips stop being written down half-way, and three days are known from photographs of fish.",
    really: "Their fish stand over no known effort.",
  },
  {
    name: "follows",
    what: "Follows were counted on one trip in five.",
    really: "Elsewhere they are unknown, not none.",
  },
]

const jigs = [{ factor: "lure_class", level: "soft plastic on a jig head" }] as const
const drawnAlike =
  "Within jigs every presentation is as likely as the others, whoever fishes and whatever bites."

/**
 * Levels without planted confounding. Colour, head weight, moon, cloud and barometer have no effect at all; hooking and
 * landing depend on the class only, hang-ups on class and ground only.
 */
export const unconfounded: readonly Unconfounded[] = [
  { outcome: "landed_rate", by: "colour", where: jigs, why: drawnAlike },
  { outcome: "landed_rate", by: "moon_illum", where: [], why: "Nobody looks at the moon, nor do the fish." },
  { outcome: "strike_rate", by: "head_weight_g", where: jigs, why: drawnAlike },
  { outcome: "strike_rate", by: "colour", where: jigs, why: drawnAlike },
  {
    outcome: "hook_up_share",
    by: "lure_class",
    where: [],
    why: "What becomes of a strike depends on the class alone, whoever holds the rod.",
  },
  {
    outcome: "landing_share",
    by: "lure_class",
    where: [],
    why: "What becomes of a hooked fish depends on the class alone.",
  },
  {
    outcome: "hang_up_rate",
    by: "ground",
    where: jigs,
    why: "A jig's hang-ups depend on the ground alone.",
  },
]
