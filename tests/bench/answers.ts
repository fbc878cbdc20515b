import { execFileSync } from "node:child_process"
import { mkdtempSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { median } from "simple-statistics"
import { z } from "zod"
import { answerAsk } from "../../core/questions/ask.ts"
import { adjust, isAdjusted } from "../../core/questions/bases/adjusted.ts"
import { groupBy, prepare } from "../../core/questions/prepare.ts"
import type { Facts } from "../../core/facts.ts"
import { stream } from "../../core/stats/random.ts"
import type { ClusteredRows } from "../../core/stats/likelihood/rows.ts"
import type { Ask } from "../../shared/questions.ts"
import { NOTHING_DIFFERS } from "../simulation/recovery/kinds.ts"
import { drawWorld } from "../simulation/recovery/world.ts"
import { askOf, factsOf } from "../unit/questions/factsOf.ts"
import { arraysMadeBy } from "./memory.ts"
import { rHas } from "./rHas.ts"

const stintsATrip = 9
const sizes = [1350, 20_000] as const
const by = { outcome: "landed_rate", by: "lure_class" } as const
const adjusted = { ...by, basis: "adjusted" } as const

/** Questions timed, from the answer as fished to everything that can be told of one, and the look through. */
const asked: readonly (readonly [string, z.input<typeof Ask>])[] = [
  ["as fished", { ...by, basis: "raw" }],
  ["adjusted", adjusted],
  ["all four bases", by],
  ["with a curve", { outcome: "landed_rate", by: "water_temp_c" }],
  ["what it depends on", { outcome: "landed_rate", by: "pause_s", depends_on: "water_temp_c" }],
  ["look through all factors", { outcome: "landed_rate", by: "all" }],
]

const milliseconds = (act: () => unknown): number => {
  const start = performance.now()
  act()
  return performance.now() - start
}

/**
 * Prints what answers cost on made-up logbooks of 1,350 and 20,000 stints: times beside the yardstick (seconds), the adjusted one
 * beside R's fit of its model to the same rows, and the arrays it makes.
 */
export async function benchAnswers(yardstick: number): Promise<void> {
  console.log("\nAnswers from facts, median of 3, first runs left out (times the yardstick)")
  const logbooks = sizes.map((stints) => ({
    stints,
    facts: factsOf(
      drawWorld(stream(1, "bench"), { ...NOTHING_DIFFERS, trips: Math.round(stints / stintsATrip) }),
    ),
  }))
  const timed = (facts: Facts, ask: z.input<typeof Ask>): number =>
    median(Array.from({ length: 4 }, () => milliseconds(() => answerAsk(facts, askOf(ask)))).slice(1))
  for (const [name, ask] of asked) {
    const cells = logbooks.map(({ stints, facts }) => {
      const time = timed(facts, ask)
      return `${stints} stints: ${time.toFixed(0)} ms (${(time / 1000 / yardstick).toFixed(2)})`
    })
    console.log(`  ${name}: ${cells.join("; ")}`)
  }
  for (const { stints, facts } of logbooks) {
    const rows = modelOf(facts)
    const bytes = await arraysMadeBy(() => answerAsk(facts, askOf(adjusted)))
    console.log(
      `  arrays made by the adjusted answer at ${stints} stints, garbage in: ${(bytes / 2 ** 20).toFixed(1)} MiB, ${(bytes / rows.x.data.byteLength).toFixed(1)} times its model's columns`,
    )
    besideR(stints, rows, timed(facts, adjusted))
  }
}

/** The rows and columns that the adjusted answer fits. */
function modelOf(facts: Facts): ClusteredRows {
  const prepared = prepare(facts, askOf(adjusted))
  const answer = adjust(prepared, by.by, groupBy(prepared, by.by).gathered)
  if (!isAdjusted(answer)) throw new Error(answer.text)
  return answer.model.clustered
}

const FromR = z.object({
  r: z.string(),
  glmmTMB: z.string(),
  seconds: z.number(),
  log_likelihood: z.number(),
})

/** Prints how long R takes for the fit alone, beside the whole adjusted answer (ms). */
function besideR(stints: number, { x, y, offset, cluster }: ClusteredRows, ours: number): void {
  if (!rHas("glmmTMB", "jsonlite")) {
    console.log("  (R with glmmTMB is not installed here: its fit of the same rows is not timed)")
    return
  }
  const scratch = mkdtempSync(join(tmpdir(), "stintbook-bench-r-"))
  try {
    const file = join(scratch, "rows.csv")
    const columns = Array.from({ length: x.cols }, (_, j) => x.data.subarray(j * x.rows, (j + 1) * x.rows))
    const lines = Array.from(y, (count, i) =>
      [count, offset?.[i] ?? 0, cluster[i], ...columns.map((column) => column[i])].join(","),
    )
    const head = ["y", "offset", "trip", ...columns.map((_, j) => `x${j}`)].join(",")
    writeFileSync(file, [head, ...lines].join("\n"))
    const script = join(import.meta.dirname, "r", "answer.R")
    const told = FromR.parse(JSON.parse(execFileSync("Rscript", [script, file], { encoding: "utf8" })))
    console.log(
      `  R ${told.r}, glmmTMB ${told.glmmTMB}, in this run: the fit of the same ${y.length} rows and ${x.cols} columns alone ${(1000 * told.seconds).toFixed(0)} ms, ${((1000 * told.seconds) / ours).toFixed(1)} times the whole adjusted answer at ${stints} stints (${ours.toFixed(0)} ms)`,
    )
  } finally {
    rmSync(scratch, { recursive: true })
  }
}
