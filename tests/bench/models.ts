// How long the models take, beside R where it is installed: 20,000 made-up stints in 4,000 trips (r/make-bench-csv.R, arguments
// 4000 5 1), 8 lure classes, natural splines of water temperature and of pause with 3 columns each, cosine and sine of the tide.
import { execFileSync } from "node:child_process"
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { cpus, tmpdir } from "node:os"
import { join } from "node:path"
import { gunzipSync } from "node:zlib"
import { median } from "simple-statistics"
import { z } from "zod"
import { type Design, makeDesign } from "../../core/stats/design/design.ts"
import { knotsAt } from "../../core/stats/design/naturalSpline.ts"
import { fitGlm } from "../../core/stats/glm/fitGlm.ts"
import { fitNegativeBinomial } from "../../core/stats/glm/fitNegativeBinomial.ts"
import type { ClusteredRows } from "../../core/stats/likelihood/rows.ts"
import { fitMixed } from "../../core/stats/mixed/fitMixed.ts"
import { arraysMadeBy } from "./memory.ts"
import { rHas } from "./rHas.ts"

const LURES = ["jig", "cork", "twitch", "sinktwitch", "walker", "popper", "prop", "spoon"]

const folder = new URL("r/", import.meta.url)
const table = gunzipSync(readFileSync(new URL("stints-20000.csv.gz", folder)))

const fromR = z.object({
  r: z.string(),
  timings: z.record(
    z.string(),
    z.object({
      seconds: z.number(),
      log_likelihood: z.number(),
      theta: z.number().nullable(),
      sd: z.number().nullable(),
      coefficients: z.record(z.string(), z.number()),
    }),
  ),
})
type FromR = z.infer<typeof fromR>

/** The rows of the first `trips` trips, their design, and how long that took. */
function read(trips: number): { rows: ClusteredRows; design: Design } {
  const [, ...lines] = table.toString("utf8").trim().split("\n")
  const cells = lines.map((line) => line.split(",")).filter(([trip]) => Number(trip) <= trips)
  const column = (at: number): Float64Array => Float64Array.from(cells, (row) => Number(row[at]))
  const [water, pause] = [column(3), column(5)]
  const [waterKnots, pauseKnots] = [knotsAt(water, 3), knotsAt(pause, 3)]
  if (waterKnots === null || pauseKnots === null) throw new Error("The table has too few values for knots.")
  const design = makeDesign(
    [
      { kind: "categorical", covariate: "lure", levels: LURES, reference: 0 },
      { kind: "spline", covariate: "water", knots: waterKnots },
      { kind: "spline", covariate: "pause", knots: pauseKnots },
      { kind: "cyclic", covariate: "tide" },
    ],
    {
      rows: cells.length,
      values: new Map([
        ["lure", Float64Array.from(cells, (row) => LURES.indexOf(row[2] ?? ""))],
        ["water", water],
        ["pause", pause],
        ["tide", column(4)],
      ]),
    },
  )
  const rows = {
    x: design.x,
    y: column(7),
    offset: column(6).map(Math.log),
    cluster: Int32Array.from(cells, ([trip]) => Number(trip) - 1),
    clusters: trips,
  }
  return { rows, design }
}

/** Median seconds of `times` calls after one to warm up, and what the last gave. */
function timed<T>(times: number, work: () => T): { seconds: number; result: T } {
  let result = work()
  const taken = Array.from({ length: times }, () => {
    const began = performance.now()
    result = work()
    return (performance.now() - began) / 1000
  })
  return { seconds: median(taken), result }
}

/** R's answers in this run, or the recorded ones with a word. */
function askR(): { answers: FromR; recorded: boolean } {
  const recorded = fromR.parse(JSON.parse(readFileSync(new URL("recorded.json", folder), "utf8")))
  if (!rHas("glmmTMB", "jsonlite", "MASS")) {
    console.log(
      "R with glmmTMB is not installed here: its times and answers are those recorded in tests/bench/r.",
    )
    return { answers: recorded, recorded: true }
  }
  const scratch = mkdtempSync(join(tmpdir(), "stintbook-bench-r-"))
  try {
    const csv = join(scratch, "stints.csv")
    writeFileSync(csv, table)
    const script = join(import.meta.dirname, "r", "bench.R")
    const text = execFileSync("Rscript", [script, csv, "1"], { encoding: "utf8" })
    return { answers: fromR.parse(JSON.parse(text)), recorded: false }
  } finally {
    rmSync(scratch, { recursive: true })
  }
}

/** Prints times, as ratios to R's, and how far the answers are apart. */
export async function benchModels(): Promise<void> {
  const { answers, recorded } = askR()
  const { rows, design } = read(4000)
  const half = read(2000)
  const glm = timed(5, () => fitGlm(rows, "poisson"))
  const logistic = timed(5, () =>
    fitGlm({ ...rows, offset: undefined, y: rows.y.map((count) => Math.min(1, count)) }, "binomial logit"),
  )
  const plain = timed(3, () => fitNegativeBinomial(rows))
  const laplace = timed(3, () => fitMixed(rows, "negative binomial", { nodes: 1 }))
  const quadrature = timed(3, () => fitMixed(rows, "negative binomial", { nodes: 15 }))
  const halfLaplace = timed(3, () => fitMixed(half.rows, "negative binomial", { nodes: 1 }))

  console.log(
    `models: 20,000 stints in 4,000 trips, ${design.names.length} columns, on ${cpus().length} cores; R ${answers.r}${recorded ? ", recorded elsewhere: its times are not of this run" : ", in this run"}`,
  )
  const against = (what: string, seconds: number, method: string): void => {
    const r = answers.timings[method]
    if (r === undefined) throw new Error(`R gave no ${method}.`)
    console.log(
      `  ${what}: ${(1000 * seconds).toFixed(0)} ms; ${method} ${(1000 * r.seconds).toFixed(0)} ms, ${(r.seconds / seconds).toFixed(1)} times as long`,
    )
  }
  against("Poisson", glm.seconds, "glm")
  against("logistic (any event)", logistic.seconds, "glm.logistic")
  against("negative binomial", plain.seconds, "glm.nb")
  against("negative binomial with trip intercepts, Laplace", laplace.seconds, "glmmTMB")
  console.log(
    `  the same with 15 nodes: ${(1000 * quadrature.seconds).toFixed(0)} ms; half the trips by Laplace: ${(1000 * halfLaplace.seconds).toFixed(0)} ms, so doubling costs ${(laplace.seconds / halfLaplace.seconds).toFixed(2)} times`,
  )
  const fit = laplace.result
  const wanted = answers.timings["glmmTMB"]
  if (fit.kind !== "fit" || wanted === undefined) throw new Error("The model was not fitted.")
  const shared = [
    ...LURES.slice(1).map((lure) => [`lure ${lure}`, lure]),
    ["cos tide", "tide_cos"],
    ["sin tide", "tide_sin"],
  ]
  const apart = shared.map(([own = "", theirs = ""]) =>
    Math.abs((fit.coefficients[design.names.indexOf(own)] ?? NaN) - (wanted.coefficients[theirs] ?? NaN)),
  )
  console.log(
    `  log-likelihood ${fit.logLik.toFixed(4)}, R ${wanted.log_likelihood.toFixed(4)}; sd ${fit.sd.toFixed(5)}, R ${wanted.sd?.toFixed(5)}; theta ${fit.dispersion?.toFixed(5)}, R ${wanted.theta?.toFixed(5)}; coefficients apart by ${Math.max(...apart).toExponential(1)} at most`,
  )
  await printMemory(rows)
}

/** Typed arrays made by one fit and not yet collected at its end, over the size of the design matrix. */
async function printMemory(rows: ClusteredRows): Promise<void> {
  const made = await arraysMadeBy(() => fitMixed(rows, "negative binomial", { nodes: 1 }))
  console.log(
    `  memory of one such fit, garbage in: ${(made / rows.x.data.byteLength).toFixed(1)} times the design matrix`,
  )
}
