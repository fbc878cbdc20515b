import { tripsToBeSure } from "../../shared/answer.ts"
import type { OutcomeKind } from "../../shared/outcomes.ts"

/** Trips below which an interval is too thin to be read (two or three trips leave one or two degrees of freedom). */
export const tripsToSay = 4

/** How many times the spread of lone events trips must show before great days are warned of. Ours. */
export const rareDaysFrom = 3

/** Ratios between which two levels count as about alike. Lengths differ far less than rates do. Ours. */
const alike: Record<OutcomeKind, readonly [number, number]> = {
  rate: [3 / 4, 4 / 3],
  share: [3 / 4, 4 / 3],
  chance: [3 / 4, 4 / 3],
  length: [10 / 11, 11 / 10],
}

/**
 * The fixed scale from interval and evidence to words, weakest first: the last row that applies is said,
 * but too few trips come before all.
 * The interval is the 95% interval of the ratio of two levels; q its p-value allowing for all that was looked at.
 * Nothing stronger is ever said: no cause, no proof, no rank. Limits are ours.
 */
export const scale = [
  { word: "Too few trips to say", when: "a level of the two tells something on fewer than 4 trips" },
  { word: "Cannot tell yet", when: "the interval holds 1, or there is none" },
  { word: "About alike", when: "the interval holds 1 and lies within 3/4 to 4/3 (lengths: 10/11 to 11/10)" },
  { word: "A hint", when: "the interval leaves 1 out" },
  { word: "Fair", when: "the interval leaves 1 out and q is at most 0.05" },
  {
    word: "Strong",
    when: "the interval leaves 1 out, q is at most 0.01, and each level has 12 trips or more",
  },
] as const
export type Verdict = (typeof scale)[number]["word"]

export type Evidence = {
  readonly kind: OutcomeKind
  /** Ends of the ratio's interval; null unbounded or none. */
  readonly low: number | null
  readonly high: number | null
  readonly q: number | null
  /** Trips that tell something, of the thinner of the two levels. */
  readonly trips: number
}

/** The word of `scale` for a comparison of two levels. */
export function verdict({ kind, low, high, q, trips }: Evidence): Verdict {
  if (trips < tripsToSay) return "Too few trips to say"
  const from = low ?? 0
  const to = high ?? Number.POSITIVE_INFINITY
  if (!(from > 1 || to < 1)) {
    const [least, most] = alike[kind]
    return from >= least && to <= most ? "About alike" : "Cannot tell yet"
  }
  if (q === null || q > 0.05) return "A hint"
  return q <= 0.01 && trips >= tripsToBeSure ? "Strong" : "Fair"
}
