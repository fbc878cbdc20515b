import { tCritical } from "../confidence.ts"
import { mean } from "../sum.ts"

/** A fit of y = a x^b by least squares on the logs. */
export type PowerLaw = {
  readonly n: number
  readonly logA: number
  readonly b: number
  readonly seLogA: number
  readonly seB: number
  /** 95% interval of b. */
  readonly bInterval: { readonly low: number; readonly high: number }
  /** Standard deviation of log y about the line. */
  readonly sigma: number
  readonly rSquared: number
  /** Mean and sum of squares about it of log x. */
  readonly meanLogX: number
  readonly squaresLogX: number
}

/** Least-squares line of log y on log x, as weight on length. RangeError for values not above 0, fewer than three pairs, or one
 *  and the same x. Source: Froese (2006) Journal of Applied Ichthyology 22:241-253. */
export function fitPowerLaw(x: Float64Array, y: Float64Array): PowerLaw {
  if (x.length !== y.length || x.length < 3) {
    throw new RangeError(
      `A power law needs at least three pairs; there are ${x.length} of x and ${y.length} of y.`,
    )
  }
  const logX = logs(x)
  const logY = logs(y)
  const n = x.length
  const meanLogX = mean(logX)
  const meanLogY = mean(logY)
  let [squaresLogX, squaresLogY, products] = [0, 0, 0]
  logX.forEach((at, i) => {
    const dy = (logY[i] ?? 0) - meanLogY
    squaresLogX += (at - meanLogX) ** 2
    squaresLogY += dy ** 2
    products += (at - meanLogX) * dy
  })
  if (!(squaresLogX > 1e-12 * n))
    throw new RangeError(`A power law needs values of x that differ; all are ${x[0]}.`)
  const b = products / squaresLogX
  const logA = meanLogY - b * meanLogX
  let residuals = 0
  logX.forEach((at, i) => {
    residuals += ((logY[i] ?? 0) - logA - b * at) ** 2
  })
  const sigma = Math.sqrt(residuals / (n - 2))
  const seB = sigma / Math.sqrt(squaresLogX)
  const reach = tCritical(n - 2) * seB
  return Object.freeze({
    n,
    logA,
    b,
    seLogA: sigma * Math.sqrt(1 / n + meanLogX ** 2 / squaresLogX),
    seB,
    bInterval: { low: b - reach, high: b + reach },
    sigma,
    rSquared: squaresLogY === 0 ? 1 : 1 - residuals / squaresLogY,
    meanLogX,
    squaresLogX,
  })
}

export type PowerLawPrediction = {
  /** Half of all y at this x lie below. */
  readonly median: number
  /** Their mean: the median times exp(sigma^2/2), since errors are symmetric on the log scale and not on that of y. */
  readonly mean: number
  /** 95% prediction interval of one y. */
  readonly low: number
  readonly high: number
}

/** y at a new x. Source of the correction: Sprugel (1983) Ecology 64:209-210. */
export function predictPowerLaw(law: PowerLaw, x: number): PowerLawPrediction {
  if (!(x > 0 && x < Infinity))
    throw new RangeError(`A power law holds for finite x above 0; it was given ${x}.`)
  const { n, logA, b, sigma, meanLogX, squaresLogX } = law
  const median = Math.exp(logA + b * Math.log(x))
  const se = sigma * Math.sqrt(1 + 1 / n + (Math.log(x) - meanLogX) ** 2 / squaresLogX)
  const reach = Math.exp(tCritical(n - 2) * se)
  return { median, mean: median * Math.exp(sigma ** 2 / 2), low: median / reach, high: median * reach }
}

function logs(values: Float64Array): Float64Array {
  return values.map((value) => {
    if (!(value > 0 && value < Infinity))
      throw new RangeError(`A power law needs finite values above 0; it was given ${value}.`)
    return Math.log(value)
  })
}
