import { clusterRate, designEffect } from "../stats/clusterRate.ts"
import { shrinkRates } from "../stats/shrinkage/rates.ts"
import type { Answer } from "../../shared/answer.ts"
import { counted, figure, listed, ratioFigure } from "../../shared/figures.ts"
import { isAdjusted } from "./bases/adjusted.ts"
import { isChangedWhenSlow, unlikePatience } from "./bases/dryMinutes.ts"
import type { Compared } from "./compared.ts"
import { gather, total } from "./gather.ts"
import { nameOfHeld, ownPath as pathWord } from "./held/candidates.ts"
import { outcomeOf } from "./outcomes.ts"
import { perHour } from "../../shared/outcomes.ts"
import { tripNamed } from "./influence.ts"
import { ratioText } from "./ratio.ts"

type Caution = Answer["cautions"][number]

/** Limits from which a thing is worth a caution. Ours. */
const littleOverlap = 0.9
const unknownPart = 0.1
const latePart = 0.25
const fewEvents = 5
const pileOver = 2

/** What may make a comparison unfair: what it goes along with, what is not held alike, patience, days carried and chosen. */
export function fairnessCautions(compared: Compared): (Caution | null)[] {
  return [
    oneTripCarriesRatio(compared),
    unlikeDryMinutes(compared),
    changedWhenSlow(compared),
    overlap(compared),
    notKnown(compared),
    skill(compared),
    notHeld(compared),
    tinyCells(compared),
    piles(compared),
    late(compared),
    besides(compared),
    toldByOutcome(compared),
    ownPath(compared),
    chosenDays(compared),
  ]
}

/** What cannot be told from what is compared. */
export function collinear({ headline, bases, nameOf }: Compared): Caution | null {
  const { adjusted } = bases
  if (adjusted?.compared == null) return null
  const { confounded, apart } = adjusted.compared
  if (confounded.length > 0) {
    const [a, b] = headline === null ? ["", ""] : [headline.pair.a.label, headline.pair.b.label].map(nameOf)
    return {
      code: "collinear",
      text: `What is compared goes along with ${listed(confounded.map(({ factor }) => nameOfHeld(factor)))}: no logbook in which ${a} and ${b} always change with it can tell the two apart.`,
    }
  }
  if (apart.length === 0) return null
  return {
    code: "collinear",
    text: `${listed(apart.map(nameOf))} ${apart.length === 1 ? "goes" : "go"} along with something held alike, so that there is no adjusted figure for ${apart.length === 1 ? "it" : "them"}.`,
  }
}

function oneTripCarriesRatio({ headline, prepared, nameOf }: Compared): Caution | null {
  const without = headline?.without
  if (headline == null || without == null || !headline.told.told || without.estimate?.ratio == null)
    return null
  const { ratio } = headline.told.estimate
  if (ratio === null || Math.abs(Math.log(without.change)) < Math.log(4 / 3)) return null
  const [a, b] = [headline.pair.a.label, headline.pair.b.label].map(nameOf)
  const about = tripNamed(prepared.facts, without.trip)
  return {
    code: "one_trip_carries_ratio",
    about,
    text: `${about.trip} carries the comparison: without that trip ${a ?? ""} over ${b ?? ""} goes from ${ratioFigure(ratio)} to ${ratioText(without.estimate)}.`,
  }
}

/** Source of the quarter: simulated logbooks in which a favourite is given nearly twice the patience (tests/simulation). */
function unlikeDryMinutes({ headline, nameOf }: Compared): Caution | null {
  if (headline === null || !unlikePatience(...headline.dry)) return null
  const [a, b] = headline.dry
  if (a === null || b === null) return null
  const [patient, other] = a.minutes > b.minutes ? [a, b] : [b, a]
  return {
    code: "unlike_patience",
    text: `${nameOf(patient.label)} was given ${Math.round(patient.minutes)} dry minutes before it was changed, ${nameOf(other.label)} ${Math.round(other.minutes)}: a favourite given more patience can look up to a quarter better than it is, except within trips.`,
  }
}

function changedWhenSlow({ prepared: { facts }, by, gathered }: Compared): Caution | null {
  if (!isChangedWhenSlow(by)) return null
  const noted = gathered.all.rows.filter((stint) => facts.why_changed[stint] != null)
  const slow = noted.filter((stint) => facts.why_changed[stint] === "slow").length
  if (noted.length < 20 || slow < noted.length / 4) return null
  return {
    code: "changed_when_slow",
    text: `Of ${noted.length} stints with a reason for their end, ${slow} ended because nothing bit: what is changed when it goes badly looks worse, and what comes next meets a slow spell.`,
  }
}

function overlap({ bases, nameOf }: Compared): Caution | null {
  const { adjusted } = bases
  if (adjusted === null) return null
  if (!isAdjusted(adjusted))
    return adjusted.code === "overlap" ? { code: "overlap", text: adjusted.text } : null
  const { share, leftOut } = adjusted.standardised
  if (share >= littleOverlap && leftOut.length === 0) return null
  const left =
    leftOut.length === 0
      ? ""
      : ` ${listed(leftOut.map(nameOf))} ${leftOut.length === 1 ? "was" : "were"} hardly fished under the others' conditions and ${leftOut.length === 1 ? "is" : "are"} left out of the averages.`
  return {
    code: "overlap",
    text: `${Math.round(100 * share)}% of the effort lies where all levels averaged were fished under the same conditions; adjusted figures are averages over that part.${left}`,
  }
}

function notKnown({ bases, gathered, prepared }: Compared): Caution | null {
  const { adjusted } = bases
  if (adjusted === null || !isAdjusted(adjusted)) return null
  const { facts, measure, ask } = prepared
  const used = new Set(adjusted.model.rows.stint)
  const all = gathered.all.rows.filter((stint) => (measure.exposure[stint] ?? 0) > 0)
  const missing = all.filter((stint) => !used.has(stint))
  if (missing.length < unknownPart * all.length) return null
  const share = `${missing.length} of ${all.length} stints are not in the adjusted figures, since something held alike is not known there`
  if (outcomeOf(ask.outcome).kind !== "rate") return { code: "missing_values", text: `${share}.` }
  const parts = gather(facts, measure, [
    { label: "in", rows: all.filter((stint) => used.has(stint)) },
    { label: "out", rows: missing },
  ])
  const pooled = designEffect(parts.all.events, parts.all.exposure)
  const [within, without] = parts.levels.map(
    ({ events, exposure }) => clusterRate(events, exposure, pooled)?.estimate,
  )
  return {
    code: "missing_values",
    text: `${share}: as fished ${figure(without ?? 0)} ${outcomeOf(ask.outcome).unit} there, ${figure(within ?? 0)} elsewhere.`,
  }
}

function skill({ by, bases, headline }: Compared): Caution | null {
  const { adjusted } = bases
  if (by === "angler" || adjusted === null || headline?.lead.basis === "same_stop") return null
  const left = adjusted.notHeld.find(({ factor }) => factor === "angler")
  if (left === undefined || left.why === "it does not vary enough" || left.why === "it is not known")
    return null
  return {
    code: "skill",
    text: `Who fished is not held alike (${left.why}): a better angler's favourite looks better than it is.`,
  }
}

function notHeld({ bases }: Compared): Caution | null {
  const left = bases.adjusted?.notHeld.filter(
    ({ why }) => !why.startsWith("it is what") && !why.startsWith("it tells"),
  )
  if (left === undefined || left.length === 0) return null
  return {
    code: "not_held",
    text: `Not held alike: ${left.map(({ factor, why }) => `${nameOfHeld(factor)} (${why})`).join("; ")}.`,
  }
}

/** Regression to the mean: what a level with hardly an event would come to if it were like the others as far as one can tell. */
function tinyCells({ gathered, prepared: { ask }, nameOf }: Compared): Caution | null {
  if (!perHour(ask.outcome) || ask.outcome === "any_fish" || gathered.levels.length < 3) return null
  const counts = Float64Array.from(gathered.levels, ({ events }) => total(events))
  const hours = Float64Array.from(gathered.levels, ({ exposure }) => total(exposure))
  const isTiny = (count: number, hour: number): boolean => count > 0 && count < fewEvents && hour > 0
  if (!counts.some((count, i) => isTiny(count, hours[i] ?? 0))) return null
  const shrunk = shrinkRates(counts, hours)
  if (shrunk === null) return null
  const tiny = gathered.levels.flatMap(({ label }, i) => {
    const [count = 0, hour = 0] = [counts[i], hours[i]]
    const estimate = shrunk[i]?.estimate
    return isTiny(count, hour) && estimate !== undefined
      ? [`${nameOf(label)} ${figure(count / hour)}, rather ${figure(estimate)}`]
      : []
  })
  return {
    code: "small_cells",
    text: `Fewer than ${fewEvents} ${outcomeOf(ask.outcome).events} each: ${listed(tiny)} where drawn towards what all levels have in common. Extremes of small cells come back to the middle.`,
  }
}

/** Counts that end in 5 or 0 far more often than their neighbours were guessed rather than counted. Common practice, no source. */
function piles({ prepared: { ask, measure }, gathered }: Compared): Caution | null {
  if (outcomeOf(ask.outcome).kind !== "rate") return null
  const of = (count: number) => gathered.all.rows.filter((stint) => measure.events[stint] === count).length
  const round = of(5) + of(10)
  const beside = (of(4) + of(6) + of(9) + of(11)) / 2
  if (round < 10 || round < pileOver * Math.max(1, beside)) return null
  return {
    code: "round_counts",
    text: `${round} stints have 5 or 10 ${outcomeOf(ask.outcome).events}, their neighbours 4, 6, 9 and 11 only ${2 * beside}: some counts look guessed.`,
  }
}

function late({ prepared: { facts }, gathered }: Compared): Caution | null {
  const rows = gathered.all.rows.filter((stint) => facts.late[stint] === 1).length
  if (rows < latePart * gathered.all.rows.length) return null
  return {
    code: "late_entries",
    text: `${rows} of ${counted(gathered.all.rows.length, "stint")} were written down at night or later: memory keeps the good hours.`,
  }
}

function besides({ bases, prepared: { ask } }: Compared): Caution | null {
  const { adjusted } = bases
  if (adjusted === null || !isAdjusted(adjusted) || adjusted.model.foretold === 0) return null
  return {
    code: "foretold",
    text: `${adjusted.model.foretold} stints say nothing in the model: at some level of what is held alike there are no ${outcomeOf(ask.outcome).events} at all.`,
  }
}

/** A level all of whose trials went one way has no finite model: what is done instead, and what that does to it. */
function toldByOutcome({
  bases: { adjusted },
  gathered,
  prepared: { ask },
  nameOf,
}: Compared): Caution | null {
  if (adjusted === null || !isAdjusted(adjusted)) return null
  const { kind, trials } = outcomeOf(ask.outcome)
  const always = gathered.levels.filter(
    ({ label, rows, events, exposure }) =>
      adjusted.biasReduced(label) && total(events) === (kind === "share" ? total(exposure) : rows.length),
  )
  if (always.length === 0) return null
  const names = listed(always.map(({ label }) => nameOf(label)))
  const what =
    kind === "share"
      ? `None of the ${trials ?? "trials"} of ${names} failed`
      : `Every stint of ${names} had a fish`
  return {
    code: "bias_reduced",
    text: `${what}, which no model takes at its word: adjusted figures are drawn a little towards the middle (bias-reduced), and good and bad days widen the interval but are not held alike.`,
  }
}

function ownPath({ bases, by }: Compared): Caution | null {
  const text = bases.adjusted === null ? null : pathWord(by)
  return text === null ? null : { code: "own_path", text }
}

const chosenDays = ({ headline }: Compared): Caution | null =>
  headline === null || headline.lead.basis === "raw"
    ? null
    : {
        code: "chosen_days",
        text: "Only days on which one chose to go are in it, and what nobody wrote down can still differ: this is no experiment.",
      }
