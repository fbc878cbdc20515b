import type { Light } from "../conditions/light.ts"
import type { visibilities } from "../../shared/vocabulary.ts"
import type { Ground, Group, Structure } from "./scenario.ts"
import type { LureClass } from "./lures.ts"

/**
 * The truth of the sample's water: what every simulated fish goes by. General knowledge of the trade, no source; the
 * rates, shares, lengths and temperatures are the design's, the multipliers ours. A multiplier of 1 has no effect.
 */
export type Season = "winter" | "spring" | "summer" | "fall"
type Visibility = (typeof visibilities)[number]

/** December to February are winter, and so on. `month` from 1. */
export function seasonOf(month: number): Season {
  if (month === 12 || month <= 2) return "winter"
  if (month <= 5) return "spring"
  return month <= 8 ? "summer" : "fall"
}

export const planted = {
  /** Fish landed per rod-hour on trips after that group; "others" on every trip. */
  landedPerRodHour: {
    "spotted seatrout": { winter: 0.3, spring: 0.8, summer: 0.5, fall: 1.4 },
    "red drum": { winter: 0.4, spring: 0.4, summer: 0.35, fall: 0.6 },
    "southern flounder": { winter: 0, spring: 0.08, summer: 0.12, fall: 0.12 },
    others: { winter: 0.05, spring: 0.2, summer: 0.5, fall: 0.3 },
  } satisfies Record<Group, Record<Season, number>>,
  /** Of the rate above, what comes while another fish is sought. */
  whenNotSought: {
    "spotted seatrout": 0.1,
    "red drum": 0.15,
    "southern flounder": 0.3,
    others: 1,
  } satisfies Record<Group, number>,
  /** Brings the average of all multipliers below, over the hours fished, to 1; a test watches it. */
  scale: {
    "spotted seatrout": 0.78,
    "red drum": 0.75,
    "southern flounder": 0.72,
    others: 0.85,
  } satisfies Record<Group, number>,

  /** Trips differ by a log-normal effect of mean 1 on every strike. */
  tripSpread: 0.8,
  /** The one red-letter day: its effect. */
  redLetterEffect: 4,

  /** Strikes drawn by each class beside a jig, and what becomes of them. */
  strikesByClass: {
    "soft plastic on a jig head": 1,
    "popping-cork rig": 1.05,
    "suspending twitch bait": 1,
    "slow-sinking twitch bait": 1,
    "topwater walker": 1.25,
    spoon: 0.9,
  } satisfies Record<LureClass, number>,
  hookedPerStrike: {
    "soft plastic on a jig head": 0.7,
    "popping-cork rig": 0.65,
    "suspending twitch bait": 0.72,
    "slow-sinking twitch bait": 0.72,
    "topwater walker": 0.45,
    spoon: 0.6,
  } satisfies Record<LureClass, number>,
  landedPerHooked: {
    "soft plastic on a jig head": 0.82,
    "popping-cork rig": 0.85,
    "suspending twitch bait": 0.75,
    "slow-sinking twitch bait": 0.75,
    "topwater walker": 0.7,
    spoon: 0.8,
  } satisfies Record<LureClass, number>,
  /** Of the hooked fish that are not landed, those that bite through the leader. */
  bittenOff: 0.15,

  strikesByLight: { night: 0.9, "first light": 1.8, day: 0.95, "last light": 1.35 } satisfies Record<
    Light,
    number
  >,
  strikesByVisibility: {
    clear: 0.9,
    "slightly stained": 1.1,
    stained: 1.05,
    muddy: 0.8,
  } satisfies Record<Visibility, number>,
  /** By part of the tide, low stand to last of the fall; groups not named do not mind. */
  strikesByTide: {
    "spotted seatrout": [0.7, 0.9, 1.2, 1.15, 0.8, 1.1, 1.2, 0.9],
    "red drum": [1.15, 1.3, 0.95, 0.8, 0.7, 0.9, 1.05, 1.3],
    "southern flounder": [0.9, 0.8, 0.8, 0.8, 0.9, 1.2, 1.3, 1.3],
    others: [1, 1, 1, 1, 1, 1, 1, 1],
  } satisfies Record<Group, readonly number[]>,
  strikesByStructure: {
    "spotted seatrout": {
      "creek mouth": 1.3,
      drain: 0.8,
      "shell rake": 1.2,
      "cordgrass edge": 0.7,
      dock: 1,
      "inlet rocks": 0.9,
    },
    "red drum": {
      "creek mouth": 1,
      drain: 1.2,
      "shell rake": 1.2,
      "cordgrass edge": 1.1,
      dock: 0.8,
      "inlet rocks": 0.8,
    },
    "southern flounder": {
      "creek mouth": 1.4,
      drain: 1.3,
      "shell rake": 0.7,
      "cordgrass edge": 0.7,
      dock: 1,
      "inlet rocks": 0.9,
    },
    others: {
      "creek mouth": 1,
      drain: 0.8,
      "shell rake": 0.9,
      "cordgrass edge": 0.7,
      dock: 1,
      "inlet rocks": 1.6,
    },
  } satisfies Record<Group, Record<Structure, number>>,
  /** The first presentation of each rod at a stop meets fish that have seen nothing yet. */
  strikesByTurn: { first: 1.35, later: 0.85 },
  /**
   * Long pauses pay in cold water and cost in warm: the log of the multiplier is `slope` x log(pause / `pause_s`) x
   * (`water_temp_c` - temperature) / 6, for lures that are stopped at all.
   */
  pauseInColdWater: { slope: 0.3, pause_s: 3.5, water_temp_c: 20 },

  /** Hang-ups per rod-hour; by ground where it matters. They do not follow the trip's effect. */
  hangUpsPerRodHour: {
    "soft plastic on a jig head": { mud: 0.3, shell: 1.2, rock: 2.5 },
    "popping-cork rig": { mud: 0.2, shell: 0.2, rock: 0.2 },
    "suspending twitch bait": { mud: 0.4, shell: 0.4, rock: 0.4 },
    "slow-sinking twitch bait": { mud: 0.4, shell: 0.4, rock: 0.4 },
    "topwater walker": { mud: 0.1, shell: 0.1, rock: 0.1 },
    spoon: { mud: 0.4, shell: 0.4, rock: 0.4 },
  } satisfies Record<LureClass, Record<Ground, number>>,
  lureLostPerHangUp: { mud: 0.2, shell: 0.2, rock: 0.45 } satisfies Record<Ground, number>,

  /** Centimetres: mean and standard deviation. */
  lengthCm: {
    "spotted seatrout": [39, 6],
    "red drum": [47, 9],
    "southern flounder": [36, 5],
    others: [35, 7],
  } satisfies Record<Group, readonly [number, number]>,
  /** Grown red drum, 85 to 105 cm, come to the inlet in fall; they are about 4% of all red drum. */
  grownRedDrum: { season: "fall", structure: "inlet rocks", share: 0.6, lengthCm: [85, 105] },

  /** Water temperature in the middle of each month, degC. */
  waterTempC: [11, 12, 15, 19, 24, 27, 29, 29, 27, 23, 18, 13],
  /** Part of the days on which the water is this clear; water.ts cuts at the normal quantiles of these sums. */
  visibility: { muddy: 0.25, stained: 0.45, "slightly stained": 0.27, clear: 0.03 } satisfies Record<
    Visibility,
    number
  >,
} as const
