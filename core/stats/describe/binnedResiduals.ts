/** Trials whose fitted chances are alike: their mean fitted and seen share, and twice the standard error of the one about the other. */
export type ResidualBin = {
  readonly fitted: number
  readonly observed: number
  readonly reach: number
  readonly trials: number
}

/**
 * Shares seen beside shares fitted, in bins of about as many trials each, by rising fitted chance: about as many bins as the root of
 * the rows, at most `most`. `reach` is what luck alone would leave in 95 of 100 bins were every trial on its own.
 * Source: Gelman & Hill (2007) Data Analysis Using Regression, section 5.6 (from memory).
 */
export function binnedResiduals(
  successes: Float64Array,
  trials: Float64Array,
  fitted: Float64Array,
  most = 20,
): ResidualBin[] {
  const order = Array.from(fitted.keys()).toSorted((a, b) => (fitted[a] ?? 0) - (fitted[b] ?? 0) || a - b)
  const total = trials.reduce((sum, m) => sum + m, 0)
  const bins = Math.max(1, Math.min(most, Math.floor(Math.sqrt(fitted.length))))
  const sums = Array.from({ length: bins }, () => ({ trials: 0, fitted: 0, observed: 0, variance: 0 }))
  let before = 0
  for (const i of order) {
    const [m, p] = [trials[i] ?? 0, fitted[i] ?? 0]
    const bin = sums[Math.min(bins - 1, Math.floor((bins * (before + m / 2)) / total))]
    before += m
    if (bin === undefined) continue
    bin.trials += m
    bin.fitted += m * p
    bin.observed += successes[i] ?? 0
    bin.variance += m * p * (1 - p)
  }
  return sums
    .filter((bin) => bin.trials > 0)
    .map((bin) => ({
      fitted: bin.fitted / bin.trials,
      observed: bin.observed / bin.trials,
      reach: (2 * Math.sqrt(bin.variance)) / bin.trials,
      trials: bin.trials,
    }))
}
