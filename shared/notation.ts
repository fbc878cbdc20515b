import type { FactorId } from "./factors.ts"
import * as word from "./vocabulary.ts"

/**
 * The letters and words of the tape, once: its reader, its printer, its help, completions and the check of new codes all
 * read this table.
 */

/** What became of a strike, a letter each, after a dot. */
export const fateLetters = {
  m: "missed",
  l: "lost",
  b: "bitten off",
  s: "struck",
  h: "hooked",
  n: "not landed",
} as const satisfies Record<string, word.Fate>

/** What else is counted, a letter each, after the same dot. */
export const counterLetters = { f: "follows", g: "hang_ups", k: "lures_lost" } as const

/** What was being counted, a letter each, after `count=`. */
export const countedLetters = { m: "misses", l: "losses", d: "landed", f: "follows", g: "hang_ups" } as const

/** Why a presentation was changed, a letter each, after an exclamation mark. */
export const reasonLetters = {
  p: "planned",
  s: "slow",
  l: "lost or fouled",
  m: "moved",
  w: "saw something",
} as const satisfies Record<string, (typeof word.changeReasons)[number]>

/** Where in the fall, pause or move a fish took, a letter each, after a colon. */
export const tookOnLetters = {
  f: "fall",
  p: "pause",
  m: "move",
} as const satisfies Record<string, (typeof word.tookOn)[number]>

/** The readings of an `@` line: the word before the value, and what it is a reading of. The first key is printed. */
export const readingKeys = {
  water_temp_c: ["w", "temp"],
  visibility: ["v", "vis"],
  water_colour: ["col"],
  secchi_cm: ["secchi"],
  salinity_psu: ["sal"],
  water_depth_m: ["dep"],
  water_movement: ["mov"],
  bank_water: ["bank"],
  wind_speed_ms: ["wind"],
  wind_dir_deg: ["from"],
  cloud_okta: ["cloud"],
  barometer_hpa: ["baro"],
  barometer_3h_hpa: ["baro3h"],
  bait_seen: ["bait"],
  other_boats: ["boats"],
} as const satisfies Partial<Record<FactorId | "other_boats", readonly string[]>>
export type ReadingKey = keyof typeof readingKeys

/** Words that may follow a presentation's code after a slash, by the column they change. */
export const overrideWords = {
  pace: word.paces,
  rhythm: word.rhythms,
  line: word.lines,
  water_column: word.waterColumns,
  bait: word.baits,
} as const

/** Words with a meaning of their own in a stint's line, which no code may be. */
export const reservedWords = {
  all: "the lane of everybody at once",
  fish: "a landed fish of unknown species",
  sight: "cast to fish that were seen",
  blind: "cast blind",
  ticked: "timed by ten-minute ticks",
  depth: "the depth fished",
  count: "what was counted in this stint alone",
  fished: "the minutes really fished",
  today: "the date",
  yesterday: "the date",
  tomorrow: "the date",
} as const

/** A code: a letter, then letters or digits, no more than eight. Its case does not matter. */
export const codePattern = /^\p{L}[\p{L}\d]{0,7}$/u

export const tickMinutes = 10
