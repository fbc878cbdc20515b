import { BinomialCloglog } from "./likelihood/binomialCloglog.ts"
import { sortByCluster } from "./mixed/sortRows.ts"

/** Units that either had an event or not: with exposure h and rate lambda a unit has one with probability
 *  1 - exp(-lambda h), a complementary log-log model with log exposure as offset and an intercept only, which is
 *  theta = log lambda. The log-likelihood is concave in it, and its score falls from the number of units with an event to
 *  minus infinity. Source: McCullagh & Nelder (1989) Generalized Linear Models, section 4.3 (from memory). */
export type AnyEventUnits = {
  /** Of the units in the order of their clusters; theta is a shift of its predictor. */
  likelihood: BinomialCloglog
  /** Cluster g's units are start[g] to start[g + 1] - 1. */
  start: Int32Array
  /** Units with an event, and exposure of the units with and without, by cluster. */
  events: Float64Array
  exposed: Float64Array
  blank: Float64Array
}

/** Sorts units by cluster. happened[i] is 1 or 0, exposure[i] above 0, cluster[i] from 0 to clusters - 1. */
export function groupUnits(
  happened: Uint8Array,
  exposure: Float64Array,
  cluster: Int32Array,
  clusters: number,
): AnyEventUnits {
  if (happened.length !== exposure.length || happened.length !== cluster.length) {
    throw new RangeError(
      `Each unit needs an outcome, an exposure and a cluster; there are ${happened.length}, ${exposure.length} and ${cluster.length}.`,
    )
  }
  const wrong = exposure.find((h) => !(h > 0 && h < Infinity))
  if (wrong !== undefined)
    throw new RangeError(`A unit's exposure must be finite and above 0; it was given ${wrong}.`)
  const { rows, start } = sortByCluster({
    x: { rows: exposure.length, cols: 0, data: new Float64Array() },
    y: Float64Array.from(happened),
    offset: exposure.map(Math.log),
    cluster,
    clusters,
  })
  const likelihood = new BinomialCloglog(rows.y)
  if (rows.offset !== undefined) likelihood.setPredictor(rows.offset)
  const events = new Float64Array(clusters)
  const exposed = new Float64Array(clusters)
  const blank = new Float64Array(clusters)
  exposure.forEach((h, i) => {
    const g = cluster[i] ?? 0
    const sums = happened[i] === 1 ? exposed : blank
    sums[g] = (sums[g] ?? 0) + h
    events[g] = (events[g] ?? 0) + (happened[i] ?? 0)
  })
  return { likelihood, start, events, exposed, blank }
}

/** Log-likelihood of all units at theta = log lambda. */
export function logLikelihood({ likelihood }: AnyEventUnits, theta: number): number {
  return likelihood.logLik(0, likelihood.rows, theta)
}

export type Score = { value: number; slope: number }

/** Score and its derivative in theta of the units from `from` up to `to`. */
export function score({ likelihood }: AnyEventUnits, from: number, to: number, theta: number): Score {
  likelihood.derivatives(from, to, theta)
  let [value, slope] = [0, 0]
  for (let i = from; i < to; i++) {
    value += likelihood.score[i] ?? 0
    slope -= likelihood.information[i] ?? 0
  }
  return { value, slope }
}

/** The theta at which the score of all units but those of cluster `without` is 0 (-1: of all); -Infinity where no unit has an
 *  event, Infinity where each has. Newton inside the bracket that 1 - u/2 <= u/(e^u - 1) <= 1 gives. */
export function solveTheta(units: AnyEventUnits, without: number, begin?: number): number {
  const events = sumWithout(units.events, without)
  const blank = sumWithout(units.blank, without)
  if (events === 0) return -Infinity
  if (blank === 0) return Infinity
  let low = Math.log(events / (blank + sumWithout(units.exposed, without) / 2))
  let high = Math.log(events / blank)
  const rows = units.likelihood.rows
  const [from, to] = without < 0 ? [0, 0] : [units.start[without] ?? 0, units.start[without + 1] ?? 0]
  let theta = begin !== undefined && begin > low && begin < high ? begin : (low + high) / 2
  for (let step = 0; step < 100; step++) {
    const before = score(units, 0, from, theta)
    const after = score(units, to, rows, theta)
    const value = before.value + after.value
    if (value > 0) low = theta
    else high = theta
    const newton = theta - value / (before.slope + after.slope)
    const next = newton > low && newton < high ? newton : (low + high) / 2
    if (Math.abs(next - theta) < 1e-13) return next
    theta = next
  }
  return theta
}

/** Summed anew rather than subtracted from a total: what is left of nothing must be 0. */
function sumWithout(values: Float64Array, without: number): number {
  let sum = 0
  for (let g = 0; g < values.length; g++) if (g !== without) sum += values[g] ?? 0
  return sum
}
