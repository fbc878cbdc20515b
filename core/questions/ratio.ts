import { rangeText, ratioFigure } from "../../shared/figures.ts"

/** A ratio with the ends of its interval; null where there is none, or no limit. */
export type Ratio = {
  readonly ratio: number | null
  readonly low: number | null
  readonly high: number | null
}

/** The same comparison read the other way: no limit above becomes 0 below, and the reverse. */
export const inverse = ({ ratio, low, high }: Ratio): Ratio => ({
  ratio: ratio === null || ratio === 0 ? null : 1 / ratio,
  low: high === null ? 0 : high === 0 ? null : 1 / high,
  high: low === null || low === 0 ? null : 1 / low,
})

/** "0.95 to 1.8", or "no interval". */
export const intervalText = ({ low, high }: Omit<Ratio, "ratio">): string =>
  low === null && high === null ? "no interval" : rangeText(low, high, ratioFigure)

/** "1.4 (1.1 to 1.9)". */
export function ratioText(of: Ratio): string {
  const { ratio, low, high } = of
  if (ratio === null) return low === null || low === 0 ? "no ratio" : `at least ${ratioFigure(low)}`
  if (ratio === 0) return high === null ? "0 (no upper limit)" : `0 (at most ${ratioFigure(high)})`
  return `${ratioFigure(ratio)} (${intervalText(of)})`
}
