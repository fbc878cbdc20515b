/** Units that either had an event or not: with exposure h and rate lambda a unit has one with probability
 *  1 - exp(-lambda h), the complementary log-log model with log exposure as offset and an intercept only. As functions of
 *  theta = log lambda the log-likelihood is concave and the score falls from the number of units with an event to minus
 *  infinity. Source: McCullagh & Nelder (1989) Generalized Linear Models, section 4.3 (from memory). */
export type AnyEventUnits = {
  /** Exposures of the units with an event, cluster after cluster. */
  exposed: Float64Array
  /** Cluster g's units with an event are exposed[start[g]] to exposed[start[g + 1] - 1]. */
  start: Int32Array
  /** Exposure of cluster g's units without an event. */
  blank: Float64Array
  blankTotal: number
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
  const start = new Int32Array(clusters + 1)
  const blank = new Float64Array(clusters)
  let blankTotal = 0
  exposure.forEach((h, i) => {
    const g = cluster[i] ?? -1
    if (!(h > 0 && h < Infinity))
      throw new RangeError(`A unit's exposure must be finite and above 0; it was given ${h}.`)
    if (g < 0 || g >= clusters)
      throw new RangeError(`A unit's cluster must lie from 0 to ${clusters - 1}; it was given ${g}.`)
    if (happened[i] === 1) {
      start[g + 1] = (start[g + 1] ?? 0) + 1
    } else {
      blank[g] = (blank[g] ?? 0) + h
      blankTotal += h
    }
  })
  for (let g = 0; g < clusters; g++) start[g + 1] = (start[g + 1] ?? 0) + (start[g] ?? 0)
  const exposed = new Float64Array(start[clusters] ?? 0)
  const next = start.slice()
  exposure.forEach((h, i) => {
    if (happened[i] !== 1) return
    const g = cluster[i] ?? 0
    const at = next[g] ?? 0
    exposed[at] = h
    next[g] = at + 1
  })
  return { exposed, start, blank, blankTotal }
}

/** Log-likelihood of all units at theta = log lambda. */
export function logLikelihood({ exposed, blankTotal }: AnyEventUnits, theta: number): number {
  const lambda = Math.exp(theta)
  let sum = -lambda * blankTotal
  for (const h of exposed) sum += Math.log(-Math.expm1(-lambda * h))
  return sum
}

export type Score = { value: number; slope: number }

/** Score and its derivative in theta, of the exposures with an event from `from` up to `to` and this blank exposure. */
export function score(exposed: Float64Array, from: number, to: number, blank: number, theta: number): Score {
  const lambda = Math.exp(theta)
  let value = -lambda * blank
  let slope = value
  for (let i = from; i < to; i++) {
    const u = lambda * (exposed[i] ?? 0)
    const survival = Math.exp(-u)
    const share = u / -Math.expm1(-u)
    value += share * survival
    slope += share * survival * (1 - share)
  }
  return { value, slope }
}

/** The theta at which the score of all units but those of cluster `without` is 0 (-1: of all); -Infinity where no unit has an
 *  event, Infinity where each has. Newton inside the bracket that 1 - u/2 <= u/(e^u - 1) <= 1 gives. */
export function solveTheta(units: AnyEventUnits, without: number, begin?: number): number {
  const { exposed, start, blank } = units
  const [from, to] = without < 0 ? [0, 0] : [start[without] ?? 0, start[without + 1] ?? 0]
  const events = exposed.length - (to - from)
  const blankLeft = without < 0 ? units.blankTotal : blankWithout(blank, without)
  if (events === 0) return -Infinity
  if (blankLeft === 0) return Infinity
  let exposedLeft = 0
  for (let i = 0; i < exposed.length; i++) if (i < from || i >= to) exposedLeft += exposed[i] ?? 0
  let low = Math.log(events / (blankLeft + exposedLeft / 2))
  let high = Math.log(events / blankLeft)
  let theta = begin !== undefined && begin > low && begin < high ? begin : (low + high) / 2
  for (let step = 0; step < 100; step++) {
    const before = score(exposed, 0, from, blankLeft, theta)
    const after = score(exposed, to, exposed.length, 0, theta)
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

function blankWithout(blank: Float64Array, without: number): number {
  let sum = 0
  for (let g = 0; g < blank.length; g++) if (g !== without) sum += blank[g] ?? 0
  return sum
}
