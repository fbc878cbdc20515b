/** The stretch of values that strips show, so that those of one table can be read against each other. */
export type Axis = { readonly from: number; readonly to: number }

type Ends = { readonly estimate: number | null; readonly low: number | null; readonly high: number | null }

/** How far past the largest estimate a strip may reach: thin levels with vast intervals would squeeze all others. */
const reach = 2.5

/** An axis from 0 for rates and shares: as far as the intervals go within reason, and no further than `most`. */
export function axisFromZero(ends: readonly Ends[], most = Number.POSITIVE_INFINITY): Axis {
  const estimates = ends.flatMap(({ estimate }) => estimate ?? [])
  const highs = ends.flatMap(({ high }) => high ?? [])
  const largest = Math.max(0, ...estimates)
  const farthest = Math.max(largest, ...highs)
  const to = largest > 0 ? Math.min(farthest, reach * largest) : farthest
  return { from: 0, to: Math.min(most, roundUp(to > 0 ? to : 1)) }
}

/** An axis around the estimates, for means far from 0. */
export function axisAround(ends: readonly Ends[]): Axis {
  const estimates = ends.flatMap(({ estimate }) => estimate ?? [])
  const least = Math.min(...estimates)
  const largest = Math.max(...estimates)
  const from = Math.max(least / 2, Math.min(least, ...ends.flatMap(({ low }) => low ?? [])))
  const to = Math.min(largest * 1.5, Math.max(largest, ...ends.flatMap(({ high }) => high ?? [])))
  return to > from ? { from, to } : { from: from - 1, to: to + 1 }
}

function roundUp(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value))
  const step = [1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10].find((s) => s * power >= value * (1 - 1e-9)) ?? 10
  return Number((step * power).toPrecision(2))
}

/** An interval in `width` characters: `line` between its ends, `dot` at the estimate, < and > where it goes on. */
export function intervalStrip(ends: Ends, axis: Axis, width: number, line: string, dot: string): string {
  if (ends.estimate === null) return ""
  const at = (value: number) => ((value - axis.from) / (axis.to - axis.from)) * (width - 1)
  const inside = (position: number) => Math.min(width - 1, Math.max(0, Math.round(position)))
  const cells = Array.from({ length: width }, () => " ")
  const bounded = ends.low !== null || ends.high !== null
  const low = ends.low === null ? Number.NEGATIVE_INFINITY : at(ends.low)
  const high = ends.high === null ? Number.POSITIVE_INFINITY : at(ends.high)
  if (bounded) {
    cells.fill(line, inside(low), inside(high) + 1)
    if (low < -0.5) cells[0] = "<"
    if (high > width - 0.5) cells[width - 1] = ">"
  }
  if (dot !== "") cells[inside(at(ends.estimate))] = dot
  return cells.join("").trimEnd()
}
