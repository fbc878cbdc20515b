import { below, normal, type Random, uniform } from "../../../core/stats/random.ts"
import type { FactorId } from "../../../shared/factors.ts"

/** Factors that have nothing to do with what is caught. */
type Unrelated = Partial<Record<FactorId, string | number>>

const pick = <T>(random: Random, values: readonly [T, ...T[]]): T =>
  values[below(random, values.length)] ?? values[0]

export const unrelatedOfDay = (random: Random): Unrelated => ({
  visibility: pick(random, ["slightly stained", "stained", "muddy"]),
  wind_speed_ms: Math.abs(4 + 2 * normal(random)),
  cloud_okta: below(random, 9),
  moon_illum: uniform(random),
  barometer_hpa: 1015 + 6 * normal(random),
  platform: pick(random, ["anchored", "drifting"]),
})

export const unrelatedOfStint = (random: Random): Unrelated => ({
  colour: pick(random, ["light", "natural", "dark"]),
  head_weight_g: pick(random, [3.5, 7, 10.5]),
  hook_shank: pick(random, ["short", "long"]),
  ground: pick(random, ["mud", "shell"]),
  water_depth_m: 0.5 + 2 * uniform(random),
  leader_length_mm: pick(random, [300, 450, 600]),
  retrieve_style: pick(random, ["bottom bounce", "mid-column hop", "steady"]),
  line: pick(random, ["tight", "slight slack", "slack"]),
  scented: pick(random, ["yes", "no"]),
})
