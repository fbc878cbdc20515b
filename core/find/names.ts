import { factorIds, factorOf, type FactorId } from "../../shared/factors.ts"
import { readingKeys } from "../../shared/notation.ts"
import type { TripCount } from "../store/read/findTrips.ts"

/** What a condition in numbers may be of: factors of one stint, or what was counted in the whole trip. */
export type AmountOf =
  | {
      readonly kind: "factors"
      /** The first that fits the number's unit is meant; of several in one place any will do. */
      readonly choices: readonly (readonly FactorId[])[]
    }
  | { readonly kind: "count"; readonly of: TripCount["of"]; readonly species: string | null }

/** The one species that a phrase names, or null. */
export type SpeciesOf = (phrase: string) => string | null

/** Short names besides the catalogue's labels and the words of a reading. */
const shortNames: Readonly<Record<string, readonly (readonly FactorId[])[]>> = {
  water: [["water_temp_c"], ["water_depth_m"]],
  "water temp": [["water_temp_c"]],
  temperature: [["water_temp_c"]],
  visibility: [["secchi_cm"]],
  depth: [["water_depth_m", "fished_depth_m"]],
  "wind speed": [["wind_speed_ms"]],
  pressure: [["barometer_hpa"]],
  tide: [["tide_height_m"], ["tide_rate_m_h"]],
  current: [["current_speed_ms"]],
  sun: [["sun_altitude_deg"]],
  moon: [["moon_illum"]],
  lure: [["lure_length_mm"]],
  head: [["head_weight_g"]],
  weight: [["head_weight_g"]],
  cork: [["cork_drop_mm"]],
  drop: [["cork_drop_mm"]],
  leader: [["leader_length_mm"], ["leader_strength_n"]],
  actions: [["actions_per_cycle"]],
  rested: [["days_rested"]],
}

const counts: Readonly<Record<string, TripCount["of"]>> = {
  fish: "landed",
  "fish landed": "landed",
  landed: "landed",
  strike: "strikes",
  strikes: "strikes",
  "hook-up": "hook_ups",
  "hook-ups": "hook_ups",
  hooked: "hook_ups",
  follow: "follows",
  follows: "follows",
  "hang-up": "hang_ups",
  "hang-ups": "hang_ups",
  hours: "rod_hours",
  "rod-hours": "rod_hours",
  "rod hours": "rod_hours",
}

const wordsOfReading = (id: FactorId): readonly string[] =>
  Object.entries(readingKeys).find(([column]) => column === id)?.[1] ?? []

const names: ReadonlyMap<string, AmountOf> = new Map<string, AmountOf>([
  ...factorIds
    .filter((id) => factorOf(id).kind === "continuous")
    .flatMap((id) =>
      [factorOf(id).label.toLowerCase(), ...wordsOfReading(id)].map(
        (name) => [name, { kind: "factors", choices: [[id]] }] as const,
      ),
    ),
  ...Object.entries(shortNames).map(([name, choices]) => [name, { kind: "factors", choices }] as const),
  ...Object.entries(counts).map(([name, of]) => [name, { kind: "count", of, species: null }] as const),
])
const mostWords = 4

/** The longest name, at the head of `words`, of what can be compared, with how many words it took. */
export function amountNameAt(
  words: readonly string[],
  species: SpeciesOf,
): { readonly words: number; readonly of: AmountOf } | null {
  for (let count = Math.min(mostWords, words.length); count > 0; count--) {
    const phrase = words.slice(0, count).join(" ")
    const of = names.get(phrase)
    if (of !== undefined) return { words: count, of }
    const name = species(phrase)
    if (name !== null) return { words: count, of: { kind: "count", of: "landed", species: name } }
  }
  return null
}
