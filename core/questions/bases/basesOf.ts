import { benjaminiHochberg } from "../../stats/benjaminiHochberg.ts"
import type { FactorId } from "../../../shared/factors.ts"
import type { Basis } from "../../../shared/questions.ts"
import type { RatioEstimate } from "../estimate.ts"
import type { Gathered } from "../gather.ts"
import { outcomeOf } from "../outcomes.ts"
import { mostLevelsInPairs, type Pair } from "../pairs.ts"
import type { Prepared } from "../prepare.ts"
import { adjust, isAdjusted, type Adjusted, type NotAdjusted } from "./adjusted.ts"
import { compareWithin, type Shared, type Within } from "./within.ts"

/** One basis' answer for a pair of levels, or why it has none. */
export type Told =
  | {
      readonly told: true
      readonly estimate: RatioEstimate
      readonly q: number | null
      readonly shared: Shared | null
    }
  | { readonly told: false; readonly why: string; readonly shared: Shared | null }

export type Bases = {
  /** null where only the raw basis was asked for. */
  readonly adjusted: Adjusted | NotAdjusted | null
  readonly trip: Within | null
  readonly stop: Within | null
  /** What each basis says of a pair of the question. */
  of(basis: Basis, pair: Pair): Told
}

/** Why a basis tells nothing where the question names another one. */
export const notAsked = "It was not asked for"

/** With fewer rows than this, and few enough levels for pairs, every pair gets likelihood ratios and refits where events are few, with
 *  more only the first. */
const rowsForThorough = 4000

/** Every pair of a question on the bases asked for, each basis worked out when it is first wanted; `first` is the pair that the
 *  answer leads with. */
export function basesOf(
  prepared: Prepared,
  by: FactorId,
  gathered: Gathered,
  pairs: readonly Pair[],
  first: Pair | null,
): Bases {
  const wants = (basis: Basis) => prepared.ask.basis === null || prepared.ask.basis === basis
  const several = gathered.levels.length > 1
  const adjustedOnce = once(() =>
    several && prepared.ask.basis !== "raw" ? adjust(prepared, by, gathered) : null,
  )
  const within = (stratum: "trip" | "stop") =>
    once(() => (several && wants(`same_${stratum}`) ? compareWithin(prepared, by, gathered, stratum) : null))
  const [trip, stop] = [within("trip"), within("stop")]
  const thoroughly = (pair: Pair, { model }: Adjusted): boolean =>
    pair === first || (model.rows.y.length <= rowsForThorough && gathered.levels.length <= mostLevelsInPairs)
  const estimateOf = (basis: Basis, pair: Pair): Told => {
    const [a, b] = [pair.a.label, pair.b.label]
    if (basis === "raw") return { told: true, estimate: pair.estimate, q: pair.q, shared: null }
    if (basis === "adjusted") {
      const adjusted = adjustedOnce()
      if (adjusted === null) return { told: false, why: notAsked, shared: null }
      if (!isAdjusted(adjusted)) return { told: false, why: adjusted.text.replace(/\.$/, ""), shared: null }
      const estimate = adjusted.contrast(a, b, thoroughly(pair, adjusted))
      if (estimate !== null) return { told: true, estimate, q: null, shared: null }
      return { told: false, why: whyNotAdjusted(adjusted, a, b), shared: null }
    }
    const among = basis === "same_trip" ? trip() : stop()
    if (among === null) return { told: false, why: whyNotWithin(prepared), shared: null }
    const paired = among.pair(a, b)
    const found = paired.kind === "told" ? paired : among.bound(a, b)
    return found.kind === "told"
      ? { told: true, estimate: found.estimate, q: null, shared: found.shared }
      : {
          told: false,
          why: paired.kind === "told" ? "" : paired.why,
          shared: paired.kind === "told" ? null : paired.shared,
        }
  }
  const answersOn = (basis: Basis): ReadonlyMap<Pair, Told> => {
    const told = pairs.map((pair) => estimateOf(basis, pair))
    const q = benjaminiHochberg(told.map((one) => (one.told ? one.estimate.p : null)))
    return new Map(
      pairs.map((pair, i) => {
        const one = told[i]
        if (one === undefined) return [pair, { told: false, why: "", shared: null }]
        return [pair, one.told ? { ...one, q: q[i] ?? null } : one]
      }),
    )
  }
  const answers = {
    raw: once(() => answersOn("raw")),
    adjusted: once(() => answersOn("adjusted")),
    same_trip: once(() => answersOn("same_trip")),
    same_stop: once(() => answersOn("same_stop")),
  }
  return {
    get adjusted() {
      return adjustedOnce()
    },
    get trip() {
      return trip()
    },
    get stop() {
      return stop()
    },
    of: (basis, pair) => answers[basis]().get(pair) ?? { told: false, why: notAsked, shared: null },
  }
}

/** What `make` gives, made when it is first wanted. */
function once<Value>(make: () => Value): () => Value {
  let made: { readonly value: Value } | null = null
  return () => (made ??= { value: make() }).value
}

const whyNotWithin = ({ ask }: Prepared): string =>
  outcomeOf(ask.outcome).kind === "rate"
    ? notAsked
    : "Only rates are compared within trips; shares, chances and lengths use the mixed model"

function whyNotAdjusted({ compared }: Adjusted, a: string, b: string): string {
  const apart = [a, b].filter((label) => compared.apart.includes(label))
  if (apart.length > 0) return `${apart.join(" and ")} cannot be told from something held alike`
  const empty = [a, b].filter((label) => compared.empty.includes(label))
  if (empty.length > 0) return `${empty.join(" and ")} had no event`
  return "The two were hardly fished under the same conditions"
}
