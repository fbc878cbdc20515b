import type { Random } from "../../../core/stats/random.ts"
import { BASES, type Basis, PAIRS, compareSeason } from "./compare.ts"
import { type Season, drawSeason } from "./season.ts"

export type Counted = {
  /** Contrasts with an answer, of three a logbook. */
  answered: number
  /** Of those, the ones whose interval holds the truth. */
  covered: number
  /** Logbooks with at least one contrast whose interval leaves out the truth. */
  falseFindings: number
  /** Median width of an interval on the log scale, infinite ones in. */
  width: number
}

/** Draws logbooks of a kind and counts, basis by basis, how often the contrasts' intervals hold the truth. */
export function countSeason(season: Season, logbooks: number, random: Random): Record<Basis, Counted> {
  const truths = [...season.ratios, 1].map(Math.log)
  const widths: Record<Basis, number[]> = { raw: [], adjusted: [], "same trip": [] }
  const counted: Record<Basis, Counted> = {
    raw: { answered: 0, covered: 0, falseFindings: 0, width: NaN },
    adjusted: { answered: 0, covered: 0, falseFindings: 0, width: NaN },
    "same trip": { answered: 0, covered: 0, falseFindings: 0, width: NaN },
  }
  for (let logbook = 0; logbook < logbooks; logbook++) {
    const compared = compareSeason(drawSeason(random, season))
    for (const basis of BASES) {
      let missed = false
      compared[basis].forEach((interval, at) => {
        if (interval === null) return
        const [a, b] = PAIRS[at] ?? [0, 0]
        const truth = (truths[a] ?? 0) - (truths[b] ?? 0)
        const holds = interval.low <= truth && truth <= interval.high
        counted[basis].answered++
        if (holds) counted[basis].covered++
        else missed = true
        widths[basis].push(interval.high - interval.low)
      })
      if (missed) counted[basis].falseFindings++
    }
  }
  for (const basis of BASES) {
    const sorted = widths[basis].toSorted((a, b) => a - b)
    counted[basis].width = sorted[Math.floor(sorted.length / 2)] ?? NaN
  }
  return counted
}
