import type { FactorId } from "../../shared/factors.ts"
import { factorOf } from "../../shared/factors.ts"
import type { Outcome } from "../../shared/questions.ts"
import type { Compared } from "./compared.ts"
import type { Ends, RatioEstimate } from "./estimate.ts"
import {
  counted,
  estimateFigure,
  hoursFigure,
  outcomeUnit,
  rangeText,
  ratioFigure,
  type NameOf,
} from "../../shared/figures.ts"
import { total, tripsTelling, type Group } from "./gather.ts"
import { outcomeOf } from "./outcomes.ts"
import { perHour } from "../../shared/outcomes.ts"
import { byEffort, mostLevelsInPairs, type Pair } from "./pairs.ts"
import { rareDaysFrom, verdict, type Verdict } from "./scale.ts"

/**
 * An answer in sentences: first the word of `scale` and the ratio of the two levels with most rod-hours, then their
 * estimates, then what other pairs show after allowing for all that were looked at. Every claim carries its interval.
 */
export function say(compared: Compared): string {
  const { gathered, headline } = compared
  const [only] = gathered.levels
  if (headline === null)
    return only === undefined ? "" : joined(`Only ${estimateClause(compared, only)}.`, sayRareDays(compared))
  const { by, nameOf } = compared
  const { outcome } = compared.prepared.ask
  const first = `${opening(verdictOf(outcome, headline), nameOf, headline)} ${sayRatio({ outcome, by, nameOf }, headline)}`
  return joined(first, sayEstimates(compared, headline), sayRareDays(compared), sayOthers(compared, headline))
}

const joined = (...sentences: string[]): string => sentences.filter((sentence) => sentence !== "").join(" ")

/** Where trips differ much, no interval reaches far enough up (tests/simulation): the sentence itself says so. */
function sayRareDays({ prepared, estimator }: Compared): string {
  if (!perHour(prepared.ask.outcome) || estimator.deff === null || estimator.deff < rareDaysFrom) return ""
  return "Rare great days may make the long-run figures higher."
}

/** The word of `scale` for one pair of an answer. */
export const verdictOf = (outcome: Outcome, { a, b, estimate, q }: Pair): Verdict =>
  verdict({
    kind: outcomeOf(outcome).kind,
    low: estimate.low,
    high: estimate.high,
    q,
    trips: Math.min(tripsTelling(a), tripsTelling(b)),
  })

function opening(word: Verdict, nameOf: NameOf, { a, b }: Pair): string {
  if (word !== "Too few trips to say") return `${word}.`
  const trips = (group: Group) => counted(tripsTelling(group), "trip")
  return `${word}: ${nameOf(a.label)} stands on ${trips(a)}, ${nameOf(b.label)} on ${trips(b)}.`
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
export function sayRatio(worded: Worded, pair: Pair): string {
  const { outcome, by, nameOf } = worded
  const turned = largerFirst(nameOf, pair)
  if (turned === null) return `${sayWithoutRatio(worded, pair)}.`
  const { more, less, times, interval } = turned
  if (fishes(by)) return `${doing[outcome](more, times, less)} (${interval}).`
  return `${factorOf(by).label}: ${more} against ${less}, ${times} times ${quantity[outcome]} (${interval}).`
}

/** "lures 3.5 times both (1.9 to 6.7)": a pair in short. */
function sayRatioInShort(worded: Worded, pair: Pair): string {
  const turned = largerFirst(worded.nameOf, pair)
  if (turned === null) return sayWithoutRatio(worded, pair)
  return `${turned.more} ${turned.times} times ${turned.less} (${turned.interval})`
}

/** The pair in words with the larger level first and the interval turned with it; null without a ratio above 0. */
function largerFirst(nameOf: NameOf, { a, b, estimate }: Pair) {
  if (estimate.ratio === null || estimate.ratio === 0) return null
  const [more, less] = estimate.ratio >= 1 ? [a, b] : [b, a]
  const shown = estimate.ratio >= 1 ? estimate : inverse(estimate)
  return {
    more: nameOf(more.label),
    less: nameOf(less.label),
    times: ratioFigure(shown.ratio ?? 1),
    interval: rangeOf(shown),
  }
}

function sayWithoutRatio({ outcome, nameOf }: Worded, { a, b, estimate }: Pair): string {
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

const inverse = ({ ratio, low, high }: RatioEstimate) => ({
  ratio: ratio === null || ratio === 0 ? null : 1 / ratio,
  low: high === null ? 0 : 1 / high,
  high: low === null || low === 0 ? null : 1 / low,
})

const rangeOf = ({ low, high }: { low: number | null; high: number | null }): string =>
  low === null && high === null ? "no interval" : rangeText(low, high, ratioFigure)

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

function sayEstimates(worked: Compared, { a, b }: Pair): string {
  const own = [a, b].filter((group) => worked.gathered.levels.includes(group))
  const text = own.map((group) => estimateClause(worked, group)).join("; ")
  return text === "" ? "" : `${text.charAt(0).toUpperCase()}${text.slice(1)}.`
}

/** The other pairs that differ after allowing for all looked at, those with most rod-hours named: two at most. */
function sayOthers({ prepared, by, gathered, pairs, nameOf }: Compared, headline: Pair): string {
  const { outcome } = prepared.ask
  const others = pairs.filter((pair) => pair !== headline && pair.estimate.p !== null)
  if (others.length === 0) return ""
  const looked = pairs.filter(({ estimate }) => estimate.p !== null).length
  const against = gathered.levels.length > mostLevelsInPairs
  const kind = against ? "levels against all others" : "pairs"
  const differ = others.filter((pair) => ["Fair", "Strong"].includes(verdictOf(outcome, pair)))
  const allowing = `after allowing for the ${looked} looked at`
  if (differ.length === 0)
    return others.length === 1
      ? `The other ${against ? "level" : "pair"} does not clearly differ, ${allowing}.`
      : `None of the other ${others.length} ${kind} clearly differs, ${allowing}.`
  const order = new Map(byEffort(gathered.levels).map((group, i) => [group, i]))
  const rank = ({ a, b }: Pair) => [a, b].map((group) => order.get(group) ?? order.size).sort((x, y) => x - y)
  const [named, rest] = [
    differ.toSorted((x, y) => byRank(rank(x), rank(y))).slice(0, 2),
    Math.max(0, differ.length - 2),
  ]
  const texts = named.map((pair) => sayRatioInShort({ outcome, by, nameOf }, pair))
  const more = rest > 0 ? `; and ${rest} more` : ""
  return `Of the other ${others.length === 1 ? (against ? "level" : "pair") : `${others.length} ${kind}`}, ${differ.length} ${differ.length === 1 ? "differs" : "differ"} ${allowing}: ${texts.join("; ")}${more}.`
}

const byRank = (x: readonly number[], y: readonly number[]): number =>
  (x[0] ?? 0) - (y[0] ?? 0) || (x[1] ?? 0) - (y[1] ?? 0)
