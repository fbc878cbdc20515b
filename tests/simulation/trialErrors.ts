import { stream } from "../../core/stats/random.ts"
import { type Run, monteCarloError } from "./run.ts"
import { type Trials, crossings } from "./trials.ts"

const PLAIN: Trials = { pairs: 80, first: 1, second: 1, spread: 0.5, theta: 1.5, gain: 1, givingUp: 0 }

const KINDS: readonly { readonly name: string; readonly trials: Trials }[] = [
  { name: "no difference", trials: PLAIN },
  { name: "20 pairs", trials: { ...PLAIN, pairs: 20 } },
  { name: "200 pairs", trials: { ...PLAIN, pairs: 200 } },
  { name: "the second block has half", trials: { ...PLAIN, second: 0.5 } },
  { name: "events clump heavily (theta 0.3)", trials: { ...PLAIN, theta: 0.3 } },
  { name: "spots differ greatly (sd 1.5)", trials: { ...PLAIN, spread: 1.5 } },
  { name: "a quarter or so given up", trials: { ...PLAIN, givingUp: 0.5 } },
  { name: "a doubled rate", trials: { ...PLAIN, gain: 2 } },
]

/** Prints how often a trial's evidence ever reaches 20, at most 5% of the time where the arms are alike. */
export function printTrialErrors(run: Run): void {
  console.log(
    [
      "How often the evidence of a trial ever reaches 20, looked at after every pair, with pairs given up completed at their worst,",
      `and with them dropped. ${run.logbooks.toLocaleString("en")} trials a row (seed ${run.seed}), 80 pairs unless said; Monte Carlo error at 5%: ${monteCarloError(5, run.logbooks)}.`,
      "",
      `${"trials".padEnd(36)}completed  dropped  pairs given up`,
    ].join("\n"),
  )
  for (const { name, trials } of KINDS) {
    const { completed, dropped, givenUp } = crossings(
      trials,
      run.logbooks,
      stream(run.seed, `trials, ${name}`),
    )
    const cells = [completed, dropped, givenUp].map((share) => `${(100 * share).toFixed(1)}%`)
    console.log(`${name.padEnd(36)}${cells[0]?.padStart(9)}${cells[1]?.padStart(9)}${cells[2]?.padStart(16)}`)
  }
}
