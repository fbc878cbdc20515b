import { tripsToBeSure, type Verdict } from "../../shared/answer.ts"
import type { OutcomeKind } from "../../shared/outcomes.ts"

/** Trips below which an interval is too thin to be read (two or three trips leave one or two degrees of freedom). */
export const tripsToSay = 4

/** How many times the spread of lone events trips must show before great days are warned of. Ours. */
export const rareDaysFrom = 3

/** Ratios between which there is little in it. Lengths differ far less than rates do. Ours. */
const alike: Record<OutcomeKind, readonly [number, number]> = {
  rate: [3 / 4, 4 / 3],
  share: [3 / 4, 4 / 3],
  chance: [3 / 4, 4 / 3],
  length: [10 / 11, 11 / 10],
}

export type Interval = { readonly low: number | null; readonly high: number | null }

export type Evidence = Interval & {
  readonly kind: OutcomeKind
  readonly q: number | null
  /** Trips that tell something, of the thinner of the two levels. */
  readonly trips: number
  /** The interval as fished, where another basis leads; null where none does. */
  readonly asFished: Interval | null
  /** The interval without the trip that matters most; null where that is not known. */
  readonly withoutOneTrip: Interval | null
  /** Whether what is compared cannot be told from something else. */
  readonly confounded: boolean
}

const leavesOneOut = ({ low, high }: Interval): boolean =>
  (low ?? 0) > 1 || (high ?? Number.POSITIVE_INFINITY) < 1

/** The word of `scale` for a comparison of two levels. */
export function verdict(evidence: Evidence): Verdict {
  const { kind, low, high, q, trips, asFished, withoutOneTrip, confounded } = evidence
  const clear = leavesOneOut(evidence)
  const looks = clear || (asFished !== null && leavesOneOut(asFished))
  if (trips < tripsToSay) return "Cannot tell"
  if (confounded) return looks ? "Looks better, not shown" : "Cannot tell"
  if (!clear) {
    const [least, most] = alike[kind]
    if ((low ?? 0) >= least && (high ?? Number.POSITIVE_INFINITY) <= most) return "Little in it"
    return looks ? "Looks better, not shown" : "Cannot tell"
  }
  if (withoutOneTrip !== null && !leavesOneOut(withoutOneTrip)) return "Leaning, one day carries it"
  if (q === null || q > 0.05) return "Leaning"
  return q <= 0.01 && trips >= tripsToBeSure ? "Strong" : "Fair"
}
