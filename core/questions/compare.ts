import type { Facts } from "../facts.ts"
import type { Answer } from "../../shared/answer.ts"
import type { FactorId } from "../../shared/factors.ts"
import { levelNames } from "../../shared/figures.ts"
import type { Ask } from "../../shared/questions.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import { contrastRows, frame, levelRows, noData, refused, standsOn } from "./answerRows.ts"
import { isAdjusted } from "./bases/adjusted.ts"
import { standings } from "./bases/agree.ts"
import { basesOf } from "./bases/basesOf.ts"
import { beside } from "./beside.ts"
import { cautionsOf } from "./cautions.ts"
import type { Compared } from "./compared.ts"
import { estimatorFor } from "./estimate.ts"
import { curveOf } from "./curve.ts"
import { dependsOn, sayDepends } from "./dependsOn.ts"
import { headlineFor } from "./headline.ts"
import { influenceOnLevel, influenceOnRatio } from "./influence.ts"
import { heldTold, modelTold } from "./modelTold.ts"
import { hoursNeeded } from "./needed.ts"
import { outcomeOf } from "./outcomes.ts"
import { overlapOf } from "./overlap.ts"
import { comparePairs, leadingPair } from "./pairs.ts"
import { plannedChanges } from "./planned.ts"
import { groupBy, prepare, speciesText } from "./prepare.ts"
import { basisUnavailable, cannotAnswer, emptyLogbook } from "./refuse.ts"
import { say } from "./say.ts"
import { settling } from "./settling.ts"
import { workingOf } from "./working.ts"

function sayDependence(
  { prepared, headline, nameOf }: Compared,
  depends: NonNullable<Answer["depends"]>,
): string {
  const { depends_on } = prepared.ask
  if (depends_on === null) return ""
  const [a = "", b = ""] = headline === null ? [] : [headline.pair.a.label, headline.pair.b.label].map(nameOf)
  return sayDepends(depends, depends_on, a, b)
}

/** Which levels of a factor give more? The answer on every basis, told in the reader's units, or a refusal with its reason. */
export function compare(facts: Facts, ask: Ask, by: FactorId, reader: ReaderUnits): Answer {
  const empty = emptyLogbook(facts)
  if (empty !== null) return refused(ask, by, empty, noData)
  const prepared = prepare(facts, ask)
  const { selection, gathered } = groupBy(prepared, by)
  const data = standsOn(prepared, selection, gathered)
  const species = speciesText(prepared)
  const refusal = cannotAnswer(ask, by, prepared.asked, selection, prepared.measure, gathered)
  if (refusal !== null) return { ...refused(ask, by, refusal, data), species }
  const estimator = estimatorFor(outcomeOf(ask.outcome).kind, facts, prepared.measure, gathered)
  const pairs = comparePairs(gathered, estimator)
  const first = leadingPair(gathered, pairs)
  const bases = basesOf(prepared, by, gathered, pairs, first)
  const headline = first === null ? null : headlineFor(prepared, by, gathered, first, bases, estimator)
  const labels = gathered.levels.map(({ label }) => label)
  const compared: Compared = {
    prepared,
    by,
    selection,
    gathered,
    estimator,
    estimates: gathered.levels.map((level) => estimator.level(level)),
    pairs,
    bases,
    headline,
    reader,
    nameOf: levelNames(by, labels, reader),
  }
  const unavailable = basisUnavailable(ask, headline)
  if (unavailable !== null) return { ...refused(ask, by, unavailable, data), species }
  const ofLevel = influenceOnLevel(facts, gathered, estimator)
  const influence = (headline === null ? null : influenceOnRatio(facts, headline)) ?? ofLevel
  const { adjusted } = bases
  const planned = plannedChanges(compared)
  const depends =
    ask.depends_on === null
      ? null
      : dependsOn(prepared, by, gathered, first, ask.depends_on, reader, adjusted)
  const near = adjusted !== null && isAdjusted(adjusted) ? adjusted.model : undefined
  const curve = ask.basis === null && depends === null ? curveOf(prepared, by, gathered, near) : null
  return {
    ...frame(ask, by, data),
    species,
    levels: levelRows(compared),
    contrasts: contrastRows(compared),
    ...(headline === null ? {} : { headline: headline.lead }),
    model: adjusted !== null && isAdjusted(adjusted) ? modelTold(by, adjusted) : null,
    influence,
    needed: headline === null ? null : hoursNeeded(headline, ask.worth),
    cautions: [
      ...cautionsOf(compared, ofLevel),
      ...(planned === null ? [] : [{ code: "planned_changes", text: planned.sentence }]),
    ],
    planned,
    settle: headline === null ? null : settling(compared, headline),
    overlap: overlapOf(compared),
    interaction: depends === null ? null : { modifier: depends.modifier, p: depends.p },
    curve: curve?.curve ?? null,
    density: curve === null ? null : [...curve.density],
    depends,
    sentence: depends === null ? say(compared) : `${sayDependence(compared, depends)} ${say(compared)}`,
    verdict: headline?.verdict ?? null,
    ...(headline === null
      ? {}
      : standings(headline.lead.basis, (basis) => bases.of(basis, headline.pair), headline.explained, {
          a: compared.nameOf(headline.pair.a.label),
          b: compared.nameOf(headline.pair.b.label),
        })),
    held: adjusted === null ? null : heldTold(prepared, by, adjusted, selection.rows),
    dry: (headline?.dry ?? []).flatMap((one) =>
      one === null ? [] : { level: one.label, minutes: one.minutes, stints: one.stints },
    ),
    beside: beside(compared),
    working: adjusted !== null && isAdjusted(adjusted) ? workingOf(ask.outcome, by, adjusted) : null,
  }
}
