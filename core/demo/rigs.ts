import type { Keyed } from "./rows.ts"
import { inches, ounces, pounds } from "./tradeUnits.ts"

const leader = { leader_length_mm: inches(24), leader_strength_n: pounds(20), bait: "none" } as const

const jigHead = (code: string, name: string, oz: number, sink: "slow" | "fast"): Keyed<"rig"> => ({
  key: `rig ${code}`,
  name,
  head_weight_g: ounces(oz),
  hook_shank: "short",
  hook_style: "open",
  ...leader,
  sink,
})

const cork = (code: string, name: string, dropInches: number): Keyed<"rig"> => ({
  key: `rig ${code}`,
  name,
  head_weight_g: ounces(1 / 8),
  hook_shank: "short",
  hook_style: "open",
  cork_shape: "oval",
  cork_sound: "click",
  cork_drop_mm: inches(dropInches),
  leader_length_mm: inches(dropInches),
  leader_strength_n: pounds(25),
  bait: "none",
  sink: "floats",
})

const plug = (code: string, name: string, sink: "floats" | "suspends" | "slow"): Keyed<"rig"> => ({
  key: `rig ${code}`,
  name,
  hook_style: "treble",
  ...leader,
  sink,
})

export const rigs: readonly Keyed<"rig">[] = [
  jigHead("h1", "1/8 oz head", 1 / 8, "slow"),
  jigHead("h2", "1/4 oz head", 1 / 4, "fast"),
  {
    ...jigHead("h3", "3/8 oz head", 3 / 8, "fast"),
    hook_shank: "long",
    sink_seconds: 3.5,
    sink_depth_m: 2,
  },
  cork("c1", "cork, 18 in drop", 18),
  cork("c2", "cork, 30 in drop", 30),
  plug("ps", "suspending plug", "suspends"),
  { ...plug("pk", "slow-sinking plug", "slow"), sink_seconds: 6, sink_depth_m: 1 },
  plug("pf", "floating plug", "floats"),
  {
    key: "rig sp",
    name: "weedless spoon, 1/2 oz",
    head_weight_g: ounces(1 / 2),
    hook_style: "weedless",
    ...leader,
    sink: "fast",
  },
]

export type Retrieve = Keyed<"retrieve"> & {
  /** Seconds of pause as the retrieve stands; null where the lure is never stopped on purpose. */
  readonly pause_s: number | null
}

export const retrieves: readonly Retrieve[] = [
  {
    key: "retrieve hop",
    retrieve_style: "mid-column hop",
    actions_per_cycle: 2,
    pause_s: 3,
    pace: "medium",
    rhythm: "steady",
    line: "slight slack",
    water_column: "middle",
  },
  {
    key: "retrieve bounce",
    retrieve_style: "bottom bounce",
    actions_per_cycle: 1,
    pause_s: 3,
    pace: "slow",
    rhythm: "steady",
    line: "tight",
    water_column: "on bottom",
  },
  {
    key: "retrieve pop",
    retrieve_style: "pop and pause",
    actions_per_cycle: 2,
    pause_s: 4,
    pace: "slow",
    rhythm: "broken",
    line: "slack",
    water_column: "upper",
  },
  {
    key: "retrieve twitch",
    retrieve_style: "twitch and pause",
    actions_per_cycle: 3,
    pause_s: 4,
    pace: "medium",
    rhythm: "broken",
    line: "slack",
    water_column: "upper",
  },
  {
    key: "retrieve walk",
    retrieve_style: "walk the dog",
    actions_per_cycle: 6,
    pause_s: null,
    pace: "medium",
    rhythm: "steady",
    line: "slight slack",
    water_column: "surface",
  },
  {
    key: "retrieve steady",
    retrieve_style: "steady",
    pause_s: null,
    pace: "medium",
    rhythm: "steady",
    line: "tight",
    water_column: "middle",
  },
]
