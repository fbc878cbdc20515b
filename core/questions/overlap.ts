import type { Answer } from "../../shared/answer.ts"
import { perHour } from "../../shared/outcomes.ts"
import type { Compared } from "./compared.ts"
import type { Group } from "./gather.ts"
import { nameOfHeld } from "./held/candidates.ts"
import { levelsOf } from "./levels.ts"

/**
 * Where the two levels of the pair that leads were fished, by the levels of everything the adjusted basis holds alike: rod-hours, for
 * shares and lengths stints. First where the parts of their effort lie farthest apart. Null where nothing is held alike.
 */
export function overlapOf({ prepared, bases, headline }: Compared): Answer["overlap"] {
  if (headline === null || bases.adjusted === null || bases.adjusted.held.length === 0) return null
  const { facts, ask } = prepared
  const { a, b } = headline.pair
  const weight = (stint: number): number => (perHour(ask.outcome) ? facts.rod_hours[stint] || 0 : 1)
  /** By level, those at which it is not known last. */
  const sumsBy = (codes: Int32Array, levels: number, { rows }: Group): Float64Array => {
    const sums = new Float64Array(levels + 1)
    for (const stint of rows) {
      const code = codes[stint] ?? -1
      const at = code < 0 ? levels : code
      sums[at] = (sums[at] ?? 0) + weight(stint)
    }
    return sums
  }
  const rows = bases.adjusted.held.flatMap(({ factor }) => {
    const { labels, codes } = levelsOf(facts, factor)
    const [ofA, ofB] = [a, b].map((group) => sumsBy(codes, labels.length, group))
    const [allA, allB] = [ofA, ofB].map((sums) => sums?.reduce((sum, value) => sum + value, 0) ?? 0)
    return [...labels, null].flatMap((level, k) => {
      const [inA, inB] = [ofA?.[k] ?? 0, ofB?.[k] ?? 0]
      if (inA + inB === 0) return []
      const apart = Math.abs(inA / (allA || 1) - inB / (allB || 1))
      return [{ apart, row: { factor, name: nameOfHeld(factor), level, a: inA, b: inB } }]
    })
  })
  return {
    a: a.label,
    b: b.label,
    rows: rows.toSorted((x, y) => y.apart - x.apart).map(({ row }) => row),
  }
}
