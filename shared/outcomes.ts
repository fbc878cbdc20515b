import type { Outcome } from "./questions.ts"

/** A rate is events over rod-hours, a share events over trials, a chance that of an event in one rod-hour. */
export type OutcomeKind = "rate" | "share" | "chance" | "length"

/** What an outcome is called: what it is counted in, what its events are, in the plural, and what a share is out of. */
export type OutcomeWords = {
  readonly kind: OutcomeKind
  readonly unit: string
  readonly events: string
  readonly trials: string | null
}

const words = {
  landed_rate: { kind: "rate", unit: "fish per rod-hour", events: "fish", trials: null },
  strike_rate: { kind: "rate", unit: "strikes per rod-hour", events: "strikes", trials: null },
  hook_up_share: { kind: "share", unit: "share of strikes hooked", events: "hook-ups", trials: "strikes" },
  landing_share: { kind: "share", unit: "share of hook-ups landed", events: "fish", trials: "hook-ups" },
  any_fish: {
    kind: "chance",
    unit: "chance of a fish in one rod-hour",
    events: "stints with fish",
    trials: null,
  },
  hang_up_rate: { kind: "rate", unit: "hang-ups per rod-hour", events: "hang-ups", trials: null },
  length_mm: { kind: "length", unit: "mm", events: "fish measured", trials: null },
} as const satisfies Record<Outcome, OutcomeWords>

/** The outcome's words, with their general type. */
export const outcomeWords = (outcome: Outcome): OutcomeWords => words[outcome]

/** Whether the outcome is per hour, and so needs complete trips and known effort. */
export const perHour = (outcome: Outcome): boolean =>
  words[outcome].kind === "rate" || words[outcome].kind === "chance"
