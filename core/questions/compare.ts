import type { Facts } from "../facts.ts"
import { exposureFactorNeeded } from "../stats/planning/hoursNeeded.ts"
import type { Answer, AnswerContrast, AnswerLevel } from "../../shared/answer.ts"
import type { FactorId } from "../../shared/factors.ts"
import type { Ask } from "../../shared/questions.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import { cautionsOf } from "./cautions.ts"
import type { Compared, Influence } from "./compared.ts"
import { estimatorFor, type LevelEstimate } from "./estimate.ts"
import { levelNames } from "../../shared/figures.ts"
import { total, tripsOf, type Gathered, type Group } from "./gather.ts"
import { outcomeOf } from "./outcomes.ts"
import { comparePairs, headlineOf, type Pair } from "./pairs.ts"
import { groupBy, namesAsked, prepare, speciesText, type Prepared } from "./prepare.ts"
import { cannotAnswer, emptyLogbook, notYet, type Refusal } from "./refuse.ts"
import { say } from "./say.ts"
import type { Selection } from "./select.ts"

/** The difference worth settling, as a ratio: a third more. Ours. */
const ratioWorthSettling = 4 / 3

/** Which levels of a factor give more, as fished? The raw answer told in the reader's units, or a refusal with its reason. */
export function compare(facts: Facts, ask: Ask, by: FactorId, reader: ReaderUnits): Answer {
  const empty = emptyLogbook(facts)
  if (empty !== null) return refused(ask, by, empty, noData)
  const prepared = prepare(facts, ask)
  const { selection, gathered } = groupBy(prepared, by)
  const data = standsOn(prepared, selection, gathered)
  const refusal = notYet(ask) ?? cannotAnswer(ask, by, prepared.asked, selection, prepared.measure, gathered)
  if (refusal !== null) return { ...refused(ask, by, refusal, data), species: speciesText(prepared) }
  const estimator = estimatorFor(outcomeOf(ask.outcome).kind, facts, prepared.measure, gathered)
  const pairs = comparePairs(gathered, estimator)
  const headline = headlineOf(gathered, pairs)
  const estimates = gathered.levels.map((level) => estimator.level(level))
  const labels = gathered.levels.map(({ label }) => label)
  const compared: Compared = {
    prepared,
    by,
    selection,
    gathered,
    estimator,
    estimates,
    pairs,
    headline,
    reader,
    nameOf: levelNames(by, labels, reader),
  }
  const influence = mostInfluentialTrip(compared)
  return {
    ...frame(ask, by, data),
    species: speciesText(prepared),
    levels: gathered.levels.flatMap((group, i) => {
      const estimate = estimates[i]
      return estimate === undefined ? [] : [levelRow(ask, group, estimate)]
    }),
    contrasts: pairs.map(contrastRow),
    influence,
    needed: headline === null ? null : hoursNeeded(headline),
    cautions: cautionsOf(compared, influence),
    sentence: say(compared),
  }
}

type Data = Answer["data"]
const noData: Data = { trips: 0, stops: 0, stints: 0, rod_hours: 0, events: 0, trials: null, left_out: [] }

/** The fields that an answer and a refusal share. */
const frame = (ask: Ask, by: FactorId, data: Data) => ({
  outcome: ask.outcome,
  by,
  unit: outcomeOf(ask.outcome).unit,
  species: namesAsked(ask),
  refused: null,
  data,
  headline: {
    basis: "raw" as const,
    why: "Levels are compared as fished: this version holds nothing else alike.",
  },
  interaction: null,
  curve: null,
  model: null,
})

const refused = (ask: Ask, by: FactorId, refusal: Refusal, data: Data): Answer => ({
  ...frame(ask, by, data),
  refused: refusal,
  levels: [],
  contrasts: [],
  influence: null,
  needed: null,
  cautions: [],
  sentence: refusal.text,
})

/** Lengths count the fish measured; everything else its events. Only shares have trials. */
function eventsAndTrials(ask: Ask, group: Group): { events: number; trials: number | null } {
  const { kind } = outcomeOf(ask.outcome)
  return {
    events: total(kind === "length" ? group.exposure : group.events),
    trials: kind === "share" ? total(group.exposure) : null,
  }
}

function standsOn({ facts, ask }: Prepared, { rows, leftOut }: Selection, { trips, all }: Gathered): Data {
  const stops = new Set(rows.map((stint) => facts.stop[stint]))
  return {
    trips: trips.length,
    stops: stops.size,
    stints: rows.length,
    rod_hours: all.rodHours,
    ...eventsAndTrials(ask, all),
    left_out: leftOut.map((entry) => ({ ...entry })),
  }
}

const levelRow = (ask: Ask, group: Group, { raw, naive, method }: LevelEstimate): AnswerLevel => ({
  level: group.label,
  trips: tripsOf(group),
  stints: group.rows.length,
  rod_hours: group.rodHours,
  ...eventsAndTrials(ask, group),
  raw: { ...raw },
  adjusted: null,
  typical: null,
  method,
  naive: naive === null ? null : { ...naive },
})

const contrastRow = ({ a, b, estimate: { ratio, low, high, p, method }, q }: Pair): AnswerContrast => ({
  a: a.label,
  b: b.label,
  basis: "raw",
  ratio,
  low,
  high,
  p,
  q,
  method,
})

function mostInfluentialTrip({ prepared, gathered, estimator }: Compared): Influence | null {
  let worst: Influence | null = null
  for (const group of gathered.levels) {
    const found = estimator.influence(group)
    if (found === null) continue
    if (worst !== null && Math.abs(Math.log(found.change)) <= Math.abs(Math.log(worst.change))) continue
    const place = gathered.trips[found.trip] ?? -1
    const { trips, trip_ids } = prepared.facts
    worst = {
      trip: trips[place] ?? "",
      trip_id: trip_ids[place] ?? "",
      change: found.change,
      level: group.label,
    }
  }
  return worst
}

function hoursNeeded({ a, b, estimate }: Pair): Answer["needed"] {
  const factor = exposureFactorNeeded(estimate, ratioWorthSettling)
  if (factor === null) return null
  const trips = a.fished.filter((fished, g) => fished === 1 || b.fished[g] === 1).length
  return {
    rod_hours: factor * (a.rodHours + b.rodHours),
    trips: Math.ceil(factor * trips),
    ratio: ratioWorthSettling,
  }
}
