const MOST_STEPS = 100

/** Where a continuous function, of opposite signs at a and b, is 0: to within `tolerance`. Regula falsi in which the value at an
 *  end that stays is scaled down, so that both ends close in. Values at the ends may be given if known. Throws a RangeError
 *  where the signs are alike; NaN where the function is NaN on the way. Source: Anderson & Björck (1973) BIT 13:253-264 (from memory). */
export function findRoot(
  f: (at: number) => number,
  a: number,
  b: number,
  { tolerance, fa = f(a), fb = f(b) }: { tolerance: number; fa?: number; fb?: number },
): number {
  if (!(fa * fb <= 0)) {
    throw new RangeError(`A root needs values of opposite signs; they are ${fa} at ${a} and ${fb} at ${b}.`)
  }
  for (let step = 0; step < MOST_STEPS && fb !== 0; step++) {
    const x = b - (fb * (b - a)) / (fb - fa)
    const fx = f(x)
    if (Number.isNaN(fx)) return NaN
    const moved = Math.abs(x - b)
    if (fx * fb < 0) {
      a = b
      fa = fb
    } else {
      const kept = 1 - fx / fb
      fa *= kept > 0 ? kept : 0.5
    }
    b = x
    fb = fx
    if (moved <= tolerance || Math.abs(b - a) <= tolerance) break
  }
  return b
}
