import { solveIncreasing } from "../distributions/quantileSearch.ts"

/** The log-likelihood of cells whose rates or shares come from a common law, by the law's location (log or logit of its mean) and
 *  the log of its concentration, which is large where the cells are alike. */
export type Marginal = {
  value(location: number, logConcentration: number): number
  derivatives(location: number, logConcentration: number): Derivatives
}

/** First and second derivatives by location (l) and log concentration (c). */
export type Derivatives = { l: number; c: number; ll: number; lc: number; cc: number }

export const FLAT: Readonly<Derivatives> = { l: 0, c: 0, ll: 0, lc: 0, cc: 0 }

/** Log concentrations looked at: from cells with nothing in common to cells alike to within a thousandth. */
export const LOWEST = -7
export const HIGHEST = 14

/** The location that fits best at a given concentration, and minus the second derivative there. */
export function bestLocation(
  marginal: Marginal,
  logConcentration: number,
  start: number,
): { location: number; information: number } {
  const location = solveIncreasing((at) => {
    const { l, ll } = marginal.derivatives(at, logConcentration)
    return { value: -l, slope: -ll }
  }, start)
  return { location, information: -marginal.derivatives(location, logConcentration).ll }
}

export type Maximum = {
  location: number
  logConcentration: number
  value: number
  seLocation: number
  seLogConcentration: number
  /** Whether the concentration stands at an end of what is looked at. */
  atBound: boolean
}

/** Maximum of the likelihood over both parameters, with standard errors from its curvature. The best of a row of concentrations
 *  comes first, then Newton's method with halved steps. */
export function maximise(marginal: Marginal, start: number): Maximum {
  let best = { location: start, logConcentration: 0, value: -Infinity }
  for (let logConcentration = LOWEST; logConcentration <= HIGHEST; logConcentration++) {
    const { location } = bestLocation(
      marginal,
      logConcentration,
      best.value > -Infinity ? best.location : start,
    )
    const value = marginal.value(location, logConcentration)
    if (value > best.value) best = { location, logConcentration, value }
  }
  for (let step = 0; step < 100; step++) {
    const { l, c, ll, lc, cc } = marginal.derivatives(best.location, best.logConcentration)
    const determinant = ll * cc - lc * lc
    const curved = ll < 0 && determinant > 0
    const move = curved
      ? { l: (lc * c - cc * l) / determinant, c: (lc * l - ll * c) / determinant }
      : { l: 0, c: Math.sign(c) }
    let size = Math.min(1, 1 / Math.abs(move.c))
    let next = best
    for (; size > 1e-12; size /= 2) {
      const location = best.location + size * move.l
      const logConcentration = Math.max(LOWEST, Math.min(HIGHEST, best.logConcentration + size * move.c))
      next = { location, logConcentration, value: marginal.value(location, logConcentration) }
      if (next.value > best.value) break
    }
    const moved =
      Math.abs(next.location - best.location) + Math.abs(next.logConcentration - best.logConcentration)
    if (next.value > best.value) best = next
    else break
    if (moved < 1e-10) break
  }
  const { ll, lc, cc } = marginal.derivatives(best.location, best.logConcentration)
  const determinant = ll * cc - lc * lc
  return {
    ...best,
    seLocation: Math.sqrt(-cc / determinant),
    seLogConcentration: Math.sqrt(-ll / determinant),
    atBound: best.logConcentration <= LOWEST || best.logConcentration >= HIGHEST,
  }
}
