import { capital, uncapital } from "../../shared/casing.ts"
import type { FactorId } from "../../shared/factors.ts"
import { factorOf } from "../../shared/factors.ts"
import type { Outcome } from "../../shared/questions.ts"
import type { Verdict } from "../../shared/answer.ts"
import { isAdjusted } from "./bases/adjusted.ts"
import { agree, explain } from "./bases/agree.ts"
import { adjustedWords, basisWords } from "./bases/basisWords.ts"
import type { Compared, Headline } from "./compared.ts"
import type { Ends, RatioEstimate } from "./estimate.ts"
import {
  counted,
  estimateFigure,
  hoursFigure,
  listed,
  outcomeUnit,
  rangeText,
  ratioFigure,
  type NameOf,
} from "../../shared/figures.ts"
import { total, tripsTelling, type Group } from "./gather.ts"
import { outcomeOf } from "./outcomes.ts"
import { perHour } from "../../shared/outcomes.ts"
import { byEffort, mostLevelsInPairs, type Pair } from "./pairs.ts"
import { nameOfHeld } from "./held/candidates.ts"
import { verdictOf } from "./headline.ts"
import { inverse, intervalText, ratioText } from "./ratio.ts"
import { rareDaysFrom, tripsToSay } from "./scale.ts"

/**
 * An answer in sentences: first the word of the scale and the ratio of the two levels with most rod-hours on the basis that
 * leads, with what bends it; then their estimates, then what other pairs show after allowing for all that were looked at.
 * Every claim carries its interval.
 */
export function say(compared: Compared): string {
  const { gathered, headline } = compared
  const [only] = gathered.levels
  if (headline === null)
    return only === undefined ? "" : joined(`Only ${estimateClause(compared, only)}.`, sayRareDays(compared))
  return joined(
    `${opening(compared, headline)} ${sayHeadline(compared, headline)}`,
    sayBending(compared, headline),
    sayEstimates(compared, headline),
    sayRareDays(compared),
    sayOthers(compared, headline),
  )
}

const joined = (...sentences: string[]): string => sentences.filter((sentence) => sentence !== "").join(" ")

/** Where trips differ much, no interval reaches far enough up (tests/simulation): the sentence itself says so. */
function sayRareDays({ prepared, estimator }: Compared): string {
  if (!perHour(prepared.ask.outcome) || estimator.deff === null || estimator.deff < rareDaysFrom) return ""
  return "Rare great days may make the long-run figures higher."
}

function opening({ nameOf }: Compared, { verdict, pair: { a, b }, told }: Headline): string {
  const few = [a, b].filter((group) => tripsTelling(group) < tripsToSay)
  if (verdict !== "Cannot tell" || few.length === 0) {
    const met = told.shared?.trips ?? tripsToSay
    if (verdict === "Cannot tell" && met < tripsToSay)
      return `Cannot tell: ${nameOf(a.label)} and ${nameOf(b.label)} met on only ${counted(met, "trip")}.`
    return `${verdict}.`
  }
  const trips = (group: Group) => counted(tripsTelling(group), "trip")
  return `${verdict}: ${nameOf(a.label)} stands on ${trips(a)}, ${nameOf(b.label)} on ${trips(b)}.`
}

const claims: readonly Verdict[] = ["Fair", "Strong", "Little in it"]

/** "In the same trips, per rod-hour, jig landed 1.3 times cork (1.1 to 1.6), 96 trips." */
function sayHeadline(
  { prepared, by, nameOf, bases }: Compared,
  { pair, told, lead, verdict }: Headline,
): string {
  const worded = { outcome: prepared.ask.outcome, by, nameOf }
  const ratio = sayRatio(worded, pair, told.told ? told.estimate : pair.estimate)
  const trips = told.shared?.trips ?? Math.min(tripsTelling(pair.a), tripsTelling(pair.b))
  const behind = claims.includes(verdict) ? `${ratio.slice(0, -1)}, ${counted(trips, "trip")}.` : ratio
  if (lead.basis === "raw") return behind
  const said = told.told && told.estimate.ratio !== null && told.estimate.ratio > 0
  return said
    ? `${lead.basis === "adjusted" ? adjustedWords(bases.adjusted, pair) : basisWords[lead.basis]}, ${uncapital(behind)}`
    : behind
}

/** What the word of the scale rests on besides the ratio: the day that carries it, the difference as fished, what it goes with. */
function sayBending(compared: Compared, headline: Headline): string {
  const { nameOf, prepared, bases } = compared
  const { pair, verdict, confounded, told, without, lead } = headline
  const raw = pair.estimate
  const [nameA, nameB] = [nameOf(pair.a.label), nameOf(pair.b.label)]
  const asFished = (why: string | null) =>
    `As fished, ${nameA} over ${nameB} is ${ratioText(raw)}${why === null ? "" : `: ${why}`}.`
  if (confounded.length > 0 && (verdict === "Cannot tell" || verdict === "Looks better, not shown"))
    return `${nameA} and ${nameB} cannot be told from ${listed(confounded.map(nameOfHeld))}: whoever changed the one changed the other.`
  if (verdict === "Looks better, not shown") {
    const why = told.told ? explain(nameA, raw, told.estimate, headline.explained) : null
    return asFished(why)
  }
  if (verdict === "Leaning, one day carries it" && without?.estimate != null && told.told) {
    const trip = prepared.facts.trips[without.trip] ?? ""
    const goes = without.change < 1 ? "falls" : "rises"
    const from = told.estimate.ratio === null ? "" : ` from ${ratioFigure(told.estimate.ratio)}`
    return `Without ${trip}, ${nameA} over ${nameB} ${goes}${from} to ${ratioText(without.estimate)}.`
  }
  if (verdict === "Little in it")
    return outcomeOf(prepared.ask.outcome).kind === "length"
      ? "A tenth more is unlikely."
      : "A third more is unlikely."
  if (lead.basis !== "raw" && told.told && bases.of("raw", pair).told && !agree(raw, told.estimate)) {
    const why = explain(nameA, raw, told.estimate, headline.explained)
    return raw.ratio === null || raw.p === null ? "" : asFished(why)
  }
  return ""
}

/** What a sentence about two levels needs besides them. */
type Worded = { readonly outcome: Outcome; readonly by: FactorId; readonly nameOf: NameOf }

/** What a thing thrown or a person throwing it does; null for the outcomes said in other words. */
const doing: Record<Outcome, (a: string, ratio: string, b: string) => string> = {
  landed_rate: (a, ratio, b) => `Per rod-hour, ${a} landed ${ratio} times ${b}`,
  strike_rate: (a, ratio, b) => `Per rod-hour, ${a} drew ${ratio} times the strikes of ${b}`,
  hook_up_share: (a, ratio, b) => `Of its strikes, ${a} hooked ${ratio} times the share that ${b} did`,
  landing_share: (a, ratio, b) => `Of its hook-ups, ${a} landed ${ratio} times the share that ${b} did`,
  any_fish: (a, ratio, b) => `Hour for hour, ${a} came to a fish at ${ratio} times the rate of ${b}`,
  hang_up_rate: (a, ratio, b) => `Per rod-hour, ${a} hung up ${ratio} times as often as ${b}`,
  length_mm: (a, ratio, b) => `Fish landed on ${a} measured ${ratio} times those on ${b}`,
}
/** What is so many times as large at one level as at the other, where levels are conditions. */
const quantity: Record<Outcome, string> = {
  landed_rate: "the fish landed per rod-hour",
  strike_rate: "the strikes per rod-hour",
  hook_up_share: "the share of strikes hooked",
  landing_share: "the share of hook-ups landed",
  any_fish: "the hourly rate of coming to a fish",
  hang_up_rate: "the hang-ups per rod-hour",
  length_mm: "the length of landed fish",
}

/** Whether a level of the factor is something that fishes: tackle or a person, rather than a condition. */
function fishes(by: FactorId): boolean {
  const factor = factorOf(by)
  return factor.kind === "categorical" && ["lure", "presentation", "angler"].includes(factor.home)
}

/** "Per rod-hour, lures landed 3.5 times both (1.9 to 6.7).": the larger first; without a ratio, what there is to say. */
export function sayRatio(worded: Worded, pair: Pair, estimate: RatioEstimate): string {
  const { outcome, by, nameOf } = worded
  const turned = largerFirst(nameOf, pair, estimate)
  if (turned === null) return `${sayWithoutRatio(worded, pair, estimate)}.`
  const { more, less, times, interval } = turned
  if (fishes(by)) return `${doing[outcome](more, times, less)} (${interval}).`
  return `${factorOf(by).label}: ${more} against ${less}, ${times} times ${quantity[outcome]} (${interval}).`
}

/** "lures 3.5 times both (1.9 to 6.7)": a pair in short. */
function sayRatioInShort(worded: Worded, pair: Pair, estimate: RatioEstimate): string {
  const turned = largerFirst(worded.nameOf, pair, estimate)
  if (turned === null) return sayWithoutRatio(worded, pair, estimate)
  return `${turned.more} ${turned.times} times ${turned.less} (${turned.interval})`
}

/** The pair in words with the larger level first and the interval turned with it; null without a ratio above 0. */
function largerFirst(nameOf: NameOf, { a, b }: Pair, estimate: RatioEstimate) {
  if (estimate.ratio === null || estimate.ratio === 0) return null
  const [more, less] = estimate.ratio >= 1 ? [a, b] : [b, a]
  const shown = estimate.ratio >= 1 ? estimate : inverse(estimate)
  return {
    more: nameOf(more.label),
    less: nameOf(less.label),
    times: ratioFigure(shown.ratio ?? 1),
    interval: intervalText(shown),
  }
}

function sayWithoutRatio({ outcome, nameOf }: Worded, { a, b }: Pair, estimate: RatioEstimate): string {
  const events = outcomeOf(outcome).events
  const [nameA, nameB] = [nameOf(a.label), nameOf(b.label)]
  const thin = [a, b].filter((group) => total(group.exposure) === 0)
  if (thin.length > 0)
    return `Nothing was counted for ${thin.map(({ label }) => nameOf(label)).join(" and ")}`
  const hasA = total(a.events) > 0
  const hasB = total(b.events) > 0
  if (!hasA && !hasB) return `Neither ${nameA} nor ${nameB} had any ${events}`
  if (hasA && hasB) return `${nameA} and ${nameB} cannot be set against one another in one number`
  const [some, none] = hasA ? [nameA, nameB] : [nameB, nameA]
  const most = hasA ? inverse(estimate).high : estimate.high
  const bound = most === null ? "no limit can be given" : `at most ${ratioFigure(most)} times ${some}`
  return `${none} had no ${events}, ${bound}`
}

/** "0.35 fish per rod-hour (0.22 to 0.51)", or "none in 12 rod-hours; at most 0.31 fish per rod-hour". */
function sayEstimate({ prepared, reader }: Compared, group: Group, raw: Ends): string {
  const { outcome } = prepared.ask
  const { kind, events } = outcomeOf(outcome)
  if (raw.estimate === null) return `no ${events}`
  const of = (value: number) => estimateFigure(outcome, value, reader)
  const measured = kind === "share" ? `of ${shareOf(outcome)}` : outcomeUnit(outcome, reader)
  if (raw.estimate === 0 && kind !== "share") {
    const bound = raw.high === null ? "no upper limit" : `at most ${of(raw.high)} ${measured}`
    return `none in ${hoursFigure(group.rodHours)} rod-hours; ${bound}`
  }
  const interval = raw.low === null && raw.high === null ? "no interval" : rangeText(raw.low, raw.high, of)
  return `${of(raw.estimate)} ${measured} (${interval})`
}

const shareOf = (outcome: Outcome): string =>
  outcome === "hook_up_share" ? "strikes hooked" : "hook-ups landed"

function estimateClause(compared: Compared, group: Group): string {
  const estimate = compared.estimates[compared.gathered.levels.indexOf(group)]
  const said = estimate === undefined ? "nothing" : sayEstimate(compared, group, estimate.raw)
  return `${compared.nameOf(group.label)}: ${said}`
}

/** The two levels' own figures: with other things held alike where both have such a figure, else as fished. */
function sayEstimates(worked: Compared, { pair, lead }: Headline): string {
  const { a, b } = pair
  const own = [a, b].filter((group) => worked.gathered.levels.includes(group))
  const { adjusted } = worked.bases
  const held = own.map((group) =>
    lead.basis === "raw" || adjusted === null || !isAdjusted(adjusted) ? null : adjusted.level(group.label),
  )
  const alike = held.every((one) => (one?.adjusted.estimate ?? 0) > 0)
  const clauses = own.map((group, i) => {
    const one = held[i]
    return alike && one != null
      ? `${worked.nameOf(group.label)}: ${sayEstimate(worked, group, one.adjusted)}`
      : estimateClause(worked, group)
  })
  const text = clauses.join("; ")
  if (text === "") return ""
  if (alike && adjusted !== null)
    return `${adjusted.held.length === 0 ? adjustedWords(adjusted, pair) : "Other things alike"}, ${text}.`
  return `${lead.basis === "raw" ? capital(text) : `As fished, ${text}`}.`
}

/** The other pairs that differ after allowing for all looked at, those with most rod-hours named: two at most. */
function sayOthers({ prepared, by, gathered, pairs, bases, nameOf }: Compared, headline: Headline): string {
  const { outcome } = prepared.ask
  const { basis } = headline.lead
  const looked = pairs.flatMap((pair) => {
    const told = bases.of(basis, pair)
    return told.told && told.estimate.p !== null ? [{ pair, told }] : []
  })
  const others = looked.filter(({ pair }) => pair !== headline.pair)
  if (others.length === 0) return ""
  const against = gathered.levels.length > mostLevelsInPairs
  const kind = against ? "levels against all others" : "pairs"
  const beside = { asFished: null, without: null, confounded: false }
  const differ = others.filter(({ pair, told }) =>
    ["Fair", "Strong"].includes(verdictOf(outcome, pair, told, beside)),
  )
  const allowing = `after allowing for the ${looked.length} looked at`
  if (differ.length === 0)
    return others.length === 1
      ? `The other ${against ? "level" : "pair"} does not clearly differ, ${allowing}.`
      : `None of the other ${others.length} ${kind} clearly differs, ${allowing}.`
  const order = new Map(byEffort(gathered.levels).map((group, i) => [group, i]))
  const rank = ({ pair: { a, b } }: (typeof looked)[number]) =>
    [a, b].map((group) => order.get(group) ?? order.size).sort((x, y) => x - y)
  const [named, rest] = [
    differ.toSorted((x, y) => byRank(rank(x), rank(y))).slice(0, 2),
    Math.max(0, differ.length - 2),
  ]
  const texts = named.map(({ pair, told }) => sayRatioInShort({ outcome, by, nameOf }, pair, told.estimate))
  const more = rest > 0 ? `; and ${rest} more` : ""
  return `Of the other ${others.length === 1 ? (against ? "level" : "pair") : `${others.length} ${kind}`}, ${differ.length} ${differ.length === 1 ? "differs" : "differ"} ${allowing}: ${texts.join("; ")}${more}.`
}

const byRank = (x: readonly number[], y: readonly number[]): number =>
  (x[0] ?? 0) - (y[0] ?? 0) || (x[1] ?? 0) - (y[1] ?? 0)
