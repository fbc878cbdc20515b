import { tCritical } from "../confidence.ts"
import type { Family } from "../likelihood/rows.ts"
import { type Matrix, multiply, multiplyTransposed } from "../matrix/matrix.ts"
import { gaussHermite } from "../mixed/gaussHermite.ts"

/** A mean response over a set of rows, all coded alike but for what is compared, with random intercepts averaged over. */
export type StandardisedMean = {
  readonly mean: number
  /** At the intercept of the middle cluster, u = 0: the median over clusters of a rate. */
  readonly typical: number
  /** Derivatives by the coefficients and log sd, in this order, of the mean on its scale: log of a rate, logit of a chance,
   *  the mean itself for a normal. */
  readonly gradient: Float64Array
  readonly typicalGradient: Float64Array
  readonly scale: Scale
}

export type Scale = "log" | "logit" | "identity"

const NODES = 15

/** Weighted mean over the rows of x of the response at linear predictor x'b (no offset: per unit of exposure), a normal
 *  intercept of standard deviation sd added and averaged over: exp(sd^2/2) times for a rate, by quadrature for a chance.
 *  Sources: Lane & Nelder (1982) Biometrics 38:613-621; Zeger, Liang & Albert (1988) Biometrics 44:1049-1060 (from memory). */
export function standardisedMean(
  x: Matrix,
  weights: Float64Array,
  family: Family,
  { coefficients, sd }: { coefficients: Float64Array; sd: number },
): StandardisedMean {
  const eta = new Float64Array(x.rows)
  multiply(x, coefficients, eta)
  const response = responseOf(family)
  const typical = averageOver(x, weights, eta, response, 0)
  if (!response.rate) {
    const average = averageOver(x, weights, eta, response, sd)
    return Object.freeze({
      mean: average.mean,
      typical: typical.mean,
      gradient: onScale(average, response.scale),
      typicalGradient: onScale(typical, response.scale),
      scale: response.scale,
    })
  }
  const typicalGradient = onScale(typical, "log")
  const gradient = typicalGradient.slice()
  gradient[x.cols] = sd * sd
  return Object.freeze({
    mean: typical.mean * Math.exp((sd * sd) / 2),
    typical: typical.mean,
    gradient,
    typicalGradient,
    scale: "log",
  })
}

/** The 95% interval of a mean from the standard error on its scale. */
export function meanInterval(
  mean: number,
  scale: Scale,
  se: number,
  df: number,
): { low: number; high: number } {
  const reach = tCritical(df) * se
  const { forth, back } = SCALES[scale]
  return { low: back(forth(mean) - reach), high: back(forth(mean) + reach) }
}

const SCALES: Record<Scale, { forth: (mean: number) => number; back: (value: number) => number }> = {
  log: { forth: Math.log, back: Math.exp },
  logit: {
    forth: (mean) => Math.log(mean / (1 - mean)),
    back: (value) => 1 / (1 + Math.exp(-value)),
  },
  identity: { forth: (mean) => mean, back: (value) => value },
}

/** Inverse link and its derivative; `rate` where a random intercept multiplies the mean. */
type Response = {
  scale: Scale
  rate: boolean
  mean: (eta: number) => number
  slope: (eta: number) => number
}

function responseOf(family: Family): Response {
  switch (family) {
    case "gaussian":
      return { scale: "identity", rate: false, mean: (eta) => eta, slope: () => 1 }
    case "poisson":
    case "negative binomial":
      return { scale: "log", rate: true, mean: Math.exp, slope: Math.exp }
    case "binomial logit":
      return {
        scale: "logit",
        rate: false,
        mean: (eta) => 1 / (1 + Math.exp(-eta)),
        slope: (eta) => 1 / (2 + Math.exp(eta) + Math.exp(-eta)),
      }
    case "binomial cloglog":
      return {
        scale: "logit",
        rate: false,
        mean: (eta) => -Math.expm1(-Math.exp(eta)),
        slope: (eta) => Math.exp(eta - Math.exp(eta)),
      }
  }
}

/** The response at each linear predictor with normal intercepts of standard deviation sd averaged over, by quadrature. */
export function averageResponse(eta: Float64Array, family: Family, sd: number): Float64Array {
  const { mean } = responseOf(family)
  const { x: node, logWeight } = gaussHermite(sd > 0 ? NODES : 1)
  return eta.map((at) =>
    node.reduce(
      (sum, u, k) =>
        sum + (Math.exp(logWeight[k] ?? 0) / Math.sqrt(Math.PI)) * mean(at + Math.SQRT2 * sd * u),
      0,
    ),
  )
}

type Average = { mean: number; gradient: Float64Array }

/** Weighted mean of the response and its gradient by the coefficients and log sd. */
function averageOver(
  x: Matrix,
  weights: Float64Array,
  eta: Float64Array,
  { mean, slope }: Response,
  sd: number,
): Average {
  const { x: node, logWeight } = gaussHermite(sd > 0 ? NODES : 1)
  const shares = logWeight.map((log) => Math.exp(log) / Math.sqrt(Math.PI))
  const weighted = new Float64Array(x.rows)
  let [sum, total, ofSd] = [0, 0, 0]
  for (let i = 0; i < x.rows; i++) {
    const weight = weights[i] ?? 0
    if (weight === 0) continue
    total += weight
    let value = 0
    let steep = 0
    let bySd = 0
    for (let k = 0; k < node.length; k++) {
      const shift = Math.SQRT2 * sd * (node[k] ?? 0)
      const share = shares[k] ?? 0
      const at = (eta[i] ?? 0) + shift
      const rise = share * slope(at)
      value += share * mean(at)
      steep += rise
      bySd += rise * shift
    }
    sum += weight * value
    weighted[i] = weight * steep
    ofSd += weight * bySd
  }
  const gradient = new Float64Array(x.cols + 1)
  multiplyTransposed(x, weighted, gradient)
  gradient[x.cols] = ofSd
  return { mean: sum / total, gradient: gradient.map((value) => value / total) }
}

function onScale({ mean, gradient }: Average, scale: Scale): Float64Array {
  const by = scale === "log" ? mean : scale === "logit" ? mean * (1 - mean) : 1
  return gradient.map((value) => value / by)
}
