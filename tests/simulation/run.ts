/** A simulation's size and seed. */
export type Run = { readonly seed: number; readonly logbooks: number }

/** Monte Carlo standard error, in percentage points, of a figure of so many percent over so many logbooks. */
export function monteCarloError(percent: number, logbooks: number): string {
  return Math.sqrt((percent * (100 - percent)) / logbooks).toFixed(1)
}

export const seconds = (began: number): number => Math.round((performance.now() - began) / 1000)
