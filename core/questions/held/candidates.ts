import { factorOf, isOfTackle, type FactorId } from "../../../shared/factors.ts"

/** What is held alike unless the asker says otherwise, in the order in which it is taken up while there is enough data; spots
 *  come last because they take most columns. */
export const candidates = [
  { factor: "day_of_year", name: "season" },
  { factor: "light", name: "light" },
  { factor: "tide_phase_rad", name: "tide" },
  { factor: "water_temp_c", name: "water temperature" },
  { factor: "angler", name: "angler" },
  { factor: "order_in_stop", name: "order in the stop" },
  { factor: "spot", name: "spot" },
] as const satisfies readonly { factor: FactorId; name: string }[]

export const nameOfHeld = (factor: FactorId): string =>
  candidates.find((one) => one.factor === factor)?.name ?? factorOf(factor).label.toLowerCase()

/** Factors that tell of one thing: where one is compared, the others are not held alike. */
const sameThing: readonly (readonly FactorId[])[] = [
  ["day_of_year", "month"],
  ["light", "sun_altitude_deg", "hour_local"],
  [
    "tide_phase_rad",
    "tide_stage",
    "tide_part",
    "tide_height_m",
    "tide_rate_m_h",
    "current_stage",
    "current_speed_ms",
    "water_movement",
    "bank_water",
  ],
  ["spot", "ground", "structure", "water_depth_m"],
]

/** What a factor works through: holding it alike would hide part of the factor's own effect. */
const worksThrough: Partial<Record<FactorId, readonly FactorId[]>> = {
  day_of_year: ["water_temp_c"],
  month: ["water_temp_c"],
  hour_local: ["water_temp_c"],
}

/** Why a candidate is not held alike whatever the data are; null where it may be. */
export function notForThis(factor: FactorId, compared: readonly FactorId[]): string | null {
  if (compared.includes(factor)) return "it is what is compared"
  const same = sameThing.find((group) => group.includes(factor) && compared.some((by) => group.includes(by)))
  if (same !== undefined) return "it tells of the same thing as what is compared"
  if (compared.some((by) => worksThrough[by]?.includes(factor) === true))
    return "what is compared works through it"
  return null
}

/** A word on what a lure does by itself, for factors of tackle and of how it is worked; null for all others. */
export function ownPath(by: FactorId): string | null {
  if (!isOfTackle(by)) return null
  return "Depth, place in the water column and pace are not held alike: a lure brings its own, and they are part of what it does."
}
