import type { FactorId } from "../../shared/factors.ts"
import type { Outcome } from "../../shared/questions.ts"
import type { Verdict } from "../../shared/answer.ts"
import { isAdjusted } from "./bases/adjusted.ts"
import type { Bases, Told } from "./bases/basesOf.ts"
import { dryMinutes, isChangedWhenSlow, unlikePatience } from "./bases/dryMinutes.ts"
import { explainedParts } from "./bases/explained.ts"
import { leadingBasis, type Lead } from "./bases/lead.ts"
import { withoutWorstTrip, type WithoutTrip } from "./bases/withoutTrip.ts"
import type { Headline } from "./compared.ts"
import type { Estimator } from "./estimate.ts"
import { tripsTelling, type Gathered } from "./gather.ts"
import { outcomeOf } from "./outcomes.ts"
import type { Pair } from "./pairs.ts"
import type { Prepared } from "./prepare.ts"
import { verdict } from "./scale.ts"

/** The answer's leading pair on the basis that leads: by the rule, or as asked. */
export function headlineFor(
  prepared: Prepared,
  by: FactorId,
  gathered: Gathered,
  pair: Pair,
  bases: Bases,
  estimator: Estimator,
): Headline {
  const { facts, ask } = prepared
  const dryOf = (group: Pair["a"]) => (isChangedWhenSlow(by) ? dryMinutes(facts, group) : null)
  const dry = [dryOf(pair.a), dryOf(pair.b)] as const
  const of = (basis: Parameters<Bases["of"]>[0]) => bases.of(basis, pair)
  const lead: Lead =
    ask.basis === null
      ? leadingBasis({ of, unlikePatience: unlikePatience(...dry) })
      : { basis: ask.basis, why: "As it was asked for." }
  const told = of(lead.basis)
  const { adjusted } = bases
  const explained =
    adjusted !== null && isAdjusted(adjusted) ? explainedParts(adjusted, pair.a.label, pair.b.label) : []
  const without = told.told
    ? withoutWorstTrip(lead.basis, pair, {
        facts,
        kind: outcomeOf(ask.outcome).kind,
        bases,
        gathered,
        estimator,
      })
    : null
  const confounded = confoundedWith(bases, lead, pair)
  const word = verdictOf(ask.outcome, pair, told, {
    asFished: lead.basis === "raw" ? null : of("raw"),
    without,
    confounded: confounded.length > 0,
  })
  return { pair, lead, told, dry, explained, without, confounded, verdict: word }
}

/** What a fair comparison would hold alike but cannot, since it goes along with the pair. Within trips and stops such a pair
 *  has no answer at all. */
function confoundedWith({ adjusted }: Bases, { basis }: Lead, { a, b }: Pair): FactorId[] {
  if (basis === "same_trip" || basis === "same_stop" || adjusted?.compared == null) return []
  const { confounded, apart, kept } = adjusted.compared
  if (confounded.length > 0) return confounded.map(({ factor }) => factor)
  return [a, b].some(({ label }) => apart.includes(label)) ? kept.map(({ factor }) => factor) : []
}

type Beside = {
  readonly asFished: Told | null
  readonly without: WithoutTrip | null
  readonly confounded: boolean
}

/** The word of the scale for one pair of an answer on one basis. */
export function verdictOf(
  outcome: Outcome,
  { a, b }: Pair,
  told: Told,
  { asFished, without, confounded }: Beside,
): Verdict {
  const trips = told.shared?.trips ?? Math.min(tripsTelling(a), tripsTelling(b))
  return verdict({
    kind: outcomeOf(outcome).kind,
    low: told.told ? told.estimate.low : null,
    high: told.told ? told.estimate.high : null,
    q: told.told ? told.q : null,
    trips,
    asFished: asFished?.told === true ? asFished.estimate : null,
    withoutOneTrip: without?.estimate ?? null,
    confounded,
  })
}
