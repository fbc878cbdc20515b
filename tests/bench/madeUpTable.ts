import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64"
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus"
import type { TableSource } from "../../core/exchange/draft.ts"

export const head =
  "trip,start,end,rods,angler,spot,lure class,pause_s,water_temp_c,tide_stage,strikes,hook_ups,landed"
const classes = ["jig", "popping cork", "twitch bait", "topwater", "spoon"]
const stages = ["low stand", "rising", "high stand", "falling"]

/** Made-up stints, ten a trip, from a fixed seed: nothing here is anybody's record. */
export function table(stints: number): string[][] {
  const generator = xoroshiro128plus(2026)
  const below = (n: number): number => Math.floor(uniformFloat64(generator) * n)
  const day = 86_400_000
  return Array.from({ length: stints }, (_, i) => {
    const trip = Math.floor(i / 10)
    const start =
      Date.UTC(2015, 0, 1, 11) +
      (trip % 4000) * day +
      (i % 10) * 40 * 60_000 +
      Math.floor(trip / 4000) * 3_600_000 * 8
    const strikes = below(4)
    const hooked = below(strikes + 1)
    const iso = (at: number) => new Date(at).toISOString()
    return [
      `T${trip}`,
      iso(start),
      iso(start + (10 + below(28)) * 60_000),
      String(1 + below(3)),
      `angler ${below(3)}`,
      `spot ${below(12)}`,
      classes[below(5)] ?? "",
      String(below(10)),
      String(10 + below(20)),
      stages[below(4)] ?? "",
      String(strikes),
      String(hooked),
      String(below(hooked + 1)),
    ]
  })
}

/** Such rows as a file. */
export const source = (rows: readonly string[][]): TableSource => {
  const bytes = new TextEncoder().encode([head, ...rows.map((row) => row.join(","))].join("\n"))
  return {
    name: "stints.csv",
    size: bytes.length,
    bytes: async function* () {
      yield bytes
    },
  }
}
