import { answerAsk } from "../../core/questions/ask.ts"
import type { Facts } from "../../core/facts.ts"
import { stream } from "../../core/stats/random.ts"
import type { Ask } from "../../shared/questions.ts"
import type { z } from "zod"
import { NOTHING_DIFFERS } from "../simulation/recovery/kinds.ts"
import { drawWorld } from "../simulation/recovery/world.ts"
import { askOf, factsOf } from "../unit/questions/factsOf.ts"

const stintsATrip = 9

/** Questions timed, from the answer as fished to everything that can be told of one, and the look through. */
const asked: readonly (readonly [string, z.input<typeof Ask>])[] = [
  ["as fished", { outcome: "landed_rate", by: "lure_class", basis: "raw" }],
  ["adjusted", { outcome: "landed_rate", by: "lure_class", basis: "adjusted" }],
  ["all four bases", { outcome: "landed_rate", by: "lure_class" }],
  ["with a curve", { outcome: "landed_rate", by: "water_temp_c" }],
  ["what it depends on", { outcome: "landed_rate", by: "pause_s", depends_on: "water_temp_c" }],
  ["look through all factors", { outcome: "landed_rate", by: "all" }],
]

const milliseconds = (act: () => unknown): number => {
  const start = performance.now()
  act()
  return performance.now() - start
}

/** Prints what answers cost on made-up logbooks of 1,350 and 20,000 stints, beside the yardstick (seconds). */
export function benchAnswers(yardstick: number): void {
  console.log("\nAnswers from facts, median of 3, first runs left out (times the yardstick)")
  const logbooks: readonly (readonly [number, Facts])[] = [1350, 20_000].map((stints) => [
    stints,
    factsOf(drawWorld(stream(1, "bench"), { ...NOTHING_DIFFERS, trips: Math.round(stints / stintsATrip) })),
  ])
  for (const [name, ask] of asked) {
    const cells = logbooks.map(([stints, facts]) => {
      const times = Array.from({ length: 4 }, () => milliseconds(() => answerAsk(facts, askOf(ask)))).slice(1)
      const time = times.toSorted((a, b) => a - b)[1] ?? 0
      return `${stints} stints: ${time.toFixed(0)} ms (${(time / 1000 / yardstick).toFixed(2)})`
    })
    console.log(`  ${name}: ${cells.join("; ")}`)
  }
}
