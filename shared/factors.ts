import type { UnitId } from "./units.ts"
import * as word from "./vocabulary.ts"

/**
 * Where a factor's value lives. `cadence` is a presentation's value that a stint may override; `ground` a spot's value
 * that a stop may override; `computed` comes from place and time and may also be imported; `derived` follows from the
 * other rows and is never read from a table.
 */
export type Home =
  | "lure"
  | "rig"
  | "retrieve"
  | "presentation"
  | "cadence"
  | "spot"
  | "ground"
  | "stop"
  | "angler"
  | "stint"
  | "observation"
  | "computed"
  | "derived"

type Common = {
  readonly label: string
  readonly home: Home
  readonly help: string
}

export type Categorical = Common & {
  readonly kind: "categorical"
  /** The fixed words in catalogue order, or null where the user may add his own. */
  readonly levels: readonly string[] | null
}
/** A whole number whose values are the levels, in ascending order. */
export type Ordered = Common & { readonly kind: "ordered"; readonly unit: UnitId | null }
export type Continuous = Common & {
  readonly kind: "continuous"
  readonly unit: UnitId | null
  readonly cuts: readonly number[]
  readonly digits: number
  /** Whether its values are counts: 1, 2, 3 and so on. */
  readonly whole: boolean
}
/** A value that comes round again after `period`; asked about in eight equal parts from 0. */
export type Cyclic = Common & {
  readonly kind: "cyclic"
  readonly unit: UnitId | null
  readonly period: number
  readonly digits: number
}
export type Factor = Categorical | Ordered | Continuous | Cyclic

const words = (label: string, home: Home, levels: readonly string[] | null, help: string): Categorical => ({
  kind: "categorical",
  label,
  home,
  levels,
  help,
})
const ordered = (label: string, home: Home, help: string): Ordered => ({
  kind: "ordered",
  label,
  home,
  unit: null,
  help,
})
const amount = (
  label: string,
  home: Home,
  unit: UnitId | null,
  cuts: readonly number[],
  digits: number,
  help: string,
): Continuous => ({ kind: "continuous", label, home, unit, cuts, digits, whole: false, help })
const wholeNumber = (label: string, home: Home, cuts: readonly number[], help: string): Continuous => ({
  ...amount(label, home, null, cuts, 0, help),
  whole: true,
})
const cycle = (
  label: string,
  home: Home,
  unit: UnitId | null,
  period: number,
  digits: number,
  help: string,
): Cyclic => ({ kind: "cyclic", label, home, unit, period, digits, help })

/**
 * Everything a catch can be compared by, in the order in which it is listed. The key is at once the id in the command
 * line, the column of `stint_fact` and the column of the plain tables; a unit at its end is the unit stored. Default
 * cuts are ours (common practice, no source) and can be changed in every question.
 */
export const factors = {
  lure_class: words("Lure class", "lure", null, "The kind of lure, from the logbook's own list."),
  lure: words("Lure", "lure", null, "One lure by its name."),
  profile: words("Profile", "lure", null, "The body's shape: paddle tail, jerk shad, shrimp and so on."),
  lure_length_mm: amount("Lure length", "lure", "mm", [60, 80, 100, 130], 0, "Length of the lure's body."),
  colour: words("Tone", "lure", word.colours, "How light or dark the lure looks in the water."),
  scented: words("Scent", "lure", word.yesNo, "Whether the lure is scented."),
  lure_sound: words("Lure sound", "lure", null, "Rattle, click, blade or none."),
  imitates: words("Imitates", "lure", null, "The food the lure stands for."),
  head_weight_g: amount("Head weight", "rig", "g", [3, 6, 9, 12], 1, "Weight of the jig head or sinker."),
  hook_shank: words("Hook shank", "rig", word.hookShanks, "Short or long shank."),
  hook_style: words("Hook style", "rig", word.hookStyles, "How the hook is carried."),
  cork_shape: words("Cork shape", "rig", null, "Shape of the popping cork."),
  cork_sound: words("Cork sound", "rig", null, "Pop, click, rattle or none."),
  cork_drop_mm: amount("Cork drop", "rig", "mm", [450, 600, 900], 0, "From the cork to the hook."),
  leader_length_mm: amount("Leader length", "rig", "mm", [450, 600, 900], 0, "Length of the leader."),
  leader_strength_n: amount(
    "Leader strength",
    "rig",
    "n",
    [60, 100, 150],
    0,
    "Breaking strength of the leader.",
  ),
  bait: words("Natural bait", "cadence", word.baits, "Natural bait added to the lure."),
  sink: words("Sink", "rig", word.sinks, "Whether the rigged lure floats, suspends or sinks, and how fast."),
  presentation: words("Presentation", "presentation", null, "Lure, rig and retrieve together, by name."),
  retrieve_style: words("Retrieve", "retrieve", null, "How the lure is worked."),
  actions_per_cycle: wholeNumber(
    "Actions a cycle",
    "cadence",
    [2, 3, 4],
    "Hops, pops or twitches before a pause.",
  ),
  pause_s: amount("Pause", "cadence", "s", [2, 4, 8], 1, "Seconds of pause between actions."),
  pace: words("Pace", "cadence", word.paces, "How fast the lure is worked."),
  rhythm: words("Rhythm", "cadence", word.rhythms, "Steady, or broken on purpose."),
  line: words("Line", "cadence", word.lines, "Tight or slack line on the pause."),
  water_column: words("Water column", "cadence", word.waterColumns, "Where in the water the lure is worked."),
  fished_depth_m: amount("Depth fished", "stint", "m", [1, 2, 4], 1, "Depth at which the lure was worked."),
  ground: words("Ground", "ground", null, "What the bottom or edge is made of."),
  structure: words("Structure", "ground", null, "What fish may hold on there."),
  platform: words("Platform", "stop", word.platforms, "What was fished from."),
  sight: words("Blind or sight", "stint", word.sights, "Casting blind, or to fish that were seen."),
  spot: words("Spot", "spot", null, "One spot by its name."),
  angler: words("Angler", "angler", null, "Who fished."),
  order_in_stop: wholeNumber(
    "Order in the stop",
    "derived",
    [2, 3, 5],
    "First, second ... stint at that stop.",
  ),
  days_rested: wholeNumber("Days rested", "derived", [2, 7, 14, 30], "Days since the spot was last fished."),
  rods: wholeNumber("Rods", "stint", [2, 3], "Rods fished at once."),
  water_temp_c: amount(
    "Water temperature",
    "observation",
    "c",
    [12, 18, 24],
    1,
    "Measured water temperature.",
  ),
  visibility: words("Visibility", "observation", word.visibilities, "How clear the water is."),
  water_colour: words("Water colour", "observation", null, "Colour of the water."),
  secchi_cm: amount(
    "Secchi depth",
    "observation",
    "cm",
    [30, 60, 120],
    0,
    "Depth at which a white disc is lost.",
  ),
  salinity_psu: amount(
    "Salinity",
    "observation",
    "psu",
    [5, 15, 25],
    1,
    "Practical salinity: fresh below 0.5, brackish to 30, the sea above.",
  ),
  water_depth_m: amount("Water depth", "observation", "m", [1, 2, 4], 1, "Depth of the water fished."),
  water_movement: words(
    "Water movement",
    "observation",
    word.waterMovements,
    "How the water is seen to move.",
  ),
  bank_water: words("Water on the bank", "observation", null, "Where the water stands on the bank."),
  wind_speed_ms: amount("Wind", "observation", "ms", [2, 5, 8], 1, "Wind speed."),
  wind_dir_deg: cycle("Wind direction", "observation", "deg", 360, 0, "Where the wind comes from."),
  cloud_okta: amount("Cloud", "observation", "okta", [2, 6], 0, "Eighths of the sky covered."),
  barometer_hpa: amount(
    "Barometer",
    "observation",
    "hpa",
    [1010, 1016, 1022],
    0,
    "Air pressure at sea level.",
  ),
  barometer_3h_hpa: amount(
    "Barometer over 3 h",
    "observation",
    "hpa",
    [-1, 1],
    1,
    "Change of air pressure in 3 hours.",
  ),
  bait_seen: words("Bait seen", "observation", null, "Bait or other sign of food seen."),
  tide_stage: words(
    "Tide",
    "computed",
    word.tideStages,
    "Rising, falling or standing; predicted, wind left out.",
  ),
  tide_part: words("Part of the tide", "computed", word.tideParts, "Thirds of the rise and of the fall."),
  tide_phase_rad: cycle("Tide phase", "computed", "rad", 2 * Math.PI, 3, "Low water 0, high water pi."),
  tide_height_m: amount(
    "Tide height",
    "computed",
    "m",
    [0.5, 1, 1.5, 2],
    2,
    "Predicted height above the station's datum.",
  ),
  tide_rate_m_h: amount(
    "Tide rate",
    "computed",
    "m_h",
    [-0.3, -0.05, 0.05, 0.3],
    2,
    "Predicted rise or fall of the level.",
  ),
  tide_range_m: amount("Tide range", "computed", "m", [1.5, 2, 2.5], 2, "Range of the present rise or fall."),
  tide_spring_neap: amount(
    "Springs or neaps",
    "computed",
    null,
    [0.85, 1, 1.15],
    2,
    "This range over the usual range.",
  ),
  current_stage: words(
    "Tidal current",
    "computed",
    word.currentStages,
    "Flood, ebb or the slack before each.",
  ),
  current_speed_ms: amount(
    "Current speed",
    "computed",
    "ms",
    [0.2, 0.5, 1],
    2,
    "Speed of the tidal current.",
  ),
  light: words("Light", "computed", word.lights, "Night, first light, day or last light."),
  sun_altitude_deg: amount(
    "Sun altitude",
    "computed",
    "deg",
    [-6, 0, 10, 30],
    0,
    "Height of the sun above the horizon.",
  ),
  moon_illum: amount(
    "Moon lit",
    "computed",
    null,
    [0.25, 0.5, 0.75],
    2,
    "Part of the moon's disc that is lit.",
  ),
  moon_phase_rad: cycle("Moon phase", "computed", "rad", 2 * Math.PI, 3, "New moon 0, full moon pi."),
  hour_local: cycle(
    "Hour of the day",
    "computed",
    null,
    24,
    1,
    "Local clock hour in the middle of the stint.",
  ),
  day_of_year: cycle("Day of the year", "derived", null, 365.25, 0, "Day of the year, from 1 January."),
  month: ordered("Month", "derived", "Month of the trip's date."),
  year: ordered("Year", "derived", "Year of the trip's date."),
} as const satisfies Record<string, Factor>

export type FactorId = keyof typeof factors

export const isFactorId = (key: string): key is FactorId => key in factors

export const factorIds: readonly FactorId[] = Object.keys(factors).filter(isFactorId)

/** The factor's row with its general type. */
export const factorOf = (id: FactorId): Factor => factors[id]

/** Homes whose value can come from more than one place; `stint_fact` then has a column `<id>_source`. */
const sourced: ReadonlySet<Home> = new Set<Home>(["cadence", "ground", "observation", "computed"])

/** Whether `stint_fact` tells where the factor's value came from, in a column `<id>_source`. */
export const hasSource = (id: FactorId): boolean => sourced.has(factors[id].home)

const tackleHomes: ReadonlySet<Home> = new Set<Home>(["lure", "rig", "retrieve", "presentation", "cadence"])

/** Whether the factor is of tackle, or of how it is worked. */
export const isOfTackle = (id: FactorId): boolean => tackleHomes.has(factors[id].home)

/** The factors that live in one place, in catalogue order. */
export const factorsAt = (home: Home): FactorId[] => factorIds.filter((id) => factors[id].home === home)
