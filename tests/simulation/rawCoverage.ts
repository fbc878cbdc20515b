import { stream } from "../../core/stats/random.ts"
import { CELLS, METHODS, type Coverage, type Method, coverageOf } from "./coverage.ts"
import { RATIO, THETA } from "./logbook.ts"
import { type Run, monteCarloError, seconds } from "./run.ts"
import { verdict } from "./verdict.ts"

const heading = ({ seed, logbooks }: Run): string[] => [
  "How often the 95% intervals hold the truth, in made-up logbooks whose truth is known.",
  "",
  `Each row is ${logbooks.toLocaleString("en")} logbooks drawn from one kind of season (seed ${seed}). Trips differ by a log-normal`,
  "spread of the given standard deviation; a trip has 2 to 6 stints of 15 to 90 minutes; events clump within a stint",
  `(negative binomial, theta ${THETA}); level a produces ${RATIO} times as much as level b, and "b/hour" is what b gives per`,
  'rod-hour on an ordinary trip. "Mixed": both levels on each trip; "apart": a trip keeps to one level. The truth is the',
  "long-run average, great days included. A logbook in which an interval could not be given is not counted.",
  "",
  "What the product shows: rate (events per rod-hour of a), ratio (rate of a over b), share (events of a that were a",
  "success), mean (length of a), any (the rate behind the chance of any event in an hour). Only for comparison, for the same",
  "rate of a: linear (linearised ratio, t), jackknife (plain, t), Poisson (as if events came alone).",
  "",
  `Figures are percent; 95 is the aim. The Monte Carlo error of a figure is ${monteCarloError(95, logbooks)} at 95 and ${monteCarloError(80, logbooks)} at 80, where all logbooks count.`,
  "A word marks a figure of the product's own intervals that lies outside 93 to 97 by more than two Monte Carlo errors:",
  '"low" promises more than it keeps, "wide" keeps more than it promises.',
  "",
]

const titles: Record<Method, string> = {
  rate: "rate",
  ratio: "ratio",
  share: "share",
  mean: "mean",
  any: "any",
  linearised: "linear",
  jackknife: "jackknife",
  poisson: "Poisson",
}
const OWN: readonly Method[] = ["rate", "ratio", "share", "mean", "any"]

function figure(method: Method, coverage: Coverage): string {
  const percent = (100 * coverage.covered).toFixed(1).padStart(5)
  const word = OWN.includes(method) ? verdict(coverage) : "as promised"
  return word === "as promised" ? percent : `${percent} ${word}`
}

/** Prints how often the raw intervals hold the truth, a line a kind of season. */
export function printRawCoverage(run: Run): void {
  const began = performance.now()
  console.log(heading(run).join("\n"))
  console.log(
    `trips  spread  b/hour  levels  ${METHODS.map((method) => titles[method].padEnd(10)).join("  ")}`,
  )
  const marked = OWN.map((method) => ({ method, low: 0, wide: 0, leastAnswered: run.logbooks }))
  for (const cell of CELLS) {
    const { trips, spread, rate, levels } = cell
    const random = stream(run.seed, `${trips} trips, spread ${spread}, ${rate} an hour, ${levels}`)
    const coverage = coverageOf(cell, run.logbooks, random)
    for (const counts of marked) {
      const { answered } = coverage[counts.method]
      const word = verdict(coverage[counts.method])
      if (word !== "as promised") counts[word]++
      counts.leastAnswered = Math.min(counts.leastAnswered, answered)
    }
    const kind = [
      String(trips).padStart(5),
      spread.toFixed(1).padStart(6),
      rate.toFixed(2).padStart(6),
      levels.padEnd(6),
    ]
    console.log(
      `${kind.join("  ")}  ${METHODS.map((method) => figure(method, coverage[method]).padEnd(10)).join("  ")}`,
    )
  }
  console.log("")
  for (const { method, low, wide, leastAnswered } of marked) {
    const answered = `an interval could be given in at least ${leastAnswered} of ${run.logbooks} logbooks of each kind`
    console.log(
      `${titles[method]}: ${low} of ${CELLS.length} kinds of season marked low, ${wide} marked wide; ${answered}.`,
    )
  }
  console.log(`Took ${seconds(began)} seconds.`)
}
