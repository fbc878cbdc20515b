import type { Facts } from "../facts.ts"
import { benjaminiHochberg } from "../stats/benjaminiHochberg.ts"
import { uncapital } from "../../shared/casing.ts"
import { mostQ, type LookThrough } from "../../shared/answer.ts"
import { factorIds, factorOf, type FactorId } from "../../shared/factors.ts"
import { levelNames, type NameOf } from "../../shared/figures.ts"
import type { Ask, Basis } from "../../shared/questions.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import { adjust, isAdjusted, type Adjusted } from "./bases/adjusted.ts"
import { agree } from "./bases/agree.ts"
import type { Told } from "./bases/basesOf.ts"
import type { Model } from "./bases/fitModel.ts"
import { adjustedWords, basisWords } from "./bases/basisWords.ts"
import { jointlyAdjusted, jointlyAsFished } from "./bases/jointly.ts"
import { compareWithin } from "./bases/within.ts"
import { predictedTide } from "./cautions.ts"
import { estimatorFor, type RatioEstimate } from "./estimate.ts"
import type { Gathered } from "./gather.ts"
import { verdictOf } from "./headline.ts"
import { outcomeOf } from "./outcomes.ts"
import { comparePairs, type Pair } from "./pairs.ts"
import { groupBy, namesAsked, prepare, speciesText, type Prepared } from "./prepare.ts"
import { ratioText } from "./ratio.ts"
import { emptyLogbook } from "./refuse.ts"
import { sayRatio } from "./say.ts"

/** Up to this p, and `mostQ`, a factor's levels are said to differ where no two of them do as surely. */
const mostP = 0.05
/** Factors that get a model besides. */
const strongestWithModel = 10

type Found = { readonly pair: Pair; readonly estimate: RatioEstimate; readonly told: Told }

type Looked = {
  readonly factor: FactorId
  readonly gathered: Gathered
  readonly nameOf: NameOf
  readonly basis: Basis
  /** What kind of comparison it is, as the opening of a sentence. */
  readonly words: string
  readonly strongest: Found | null
  /** Of the factor as a whole: of all its levels being alike. */
  readonly p: number | null
  /** Of the strongest pair, times the pairs looked at (Bonferroni). */
  readonly pairP: number | null
  /** The same pair with other things held alike, where a model was fitted. */
  readonly model: RatioEstimate | null
}

/**
 * Looks through every factor with two or more known levels for a difference in one outcome: within trips, or as fished where a
 * factor does not vary within trips or the outcome is no rate. The ten strongest are fitted by the mixed model as well: those
 * as fished are then told from it, the others beside it. A factor's p is that of one test of all its levels being alike (a joint
 * F; where too few levels have enough to tell, the smallest p of its pairs times their number); its size is that of the pair with the
 * smallest p, and the word of its sentence allows for that choice too; q is Benjamini-Hochberg over the factors. Sorted by p; told in the
 * reader's units. `progress` hears how many factors are done. Throws ProblemError `bad_ask` where a comparison does.
 */
export function lookThrough(
  facts: Facts,
  ask: Ask,
  reader: ReaderUnits,
  progress: (done: number, of: number) => void = () => {},
): LookThrough {
  const prepared = emptyLogbook(facts) === null ? prepare(facts, ask) : null
  const of = factorIds.length + strongestWithModel
  const screened =
    prepared === null
      ? []
      : factorIds.flatMap((factor, i) => {
          progress(i, of)
          return screen(prepared, factor, reader) ?? []
        })
  const order = screened.toSorted((a, b) => (a.p ?? 2) - (b.p ?? 2))
  // Models hold much the same alike: each begins at the one before, but where its p is told.
  let near: Model | undefined
  const looked = order.map((one, i) => {
    if (prepared === null || i >= strongestWithModel || one.strongest === null) return one
    progress(factorIds.length + i, of)
    const adjusted = adjust(prepared, one.factor, one.gathered, one.basis === "same_trip" ? near : undefined)
    if (!isAdjusted(adjusted)) return one
    near = adjusted.model
    return withModel(prepared, one, one.strongest, adjusted)
  })
  const q = benjaminiHochberg(looked.map(({ p }) => p))
  const sorted = looked
    .map((one, i) => ({ ...one, q: q[i] ?? null }))
    .toSorted((a, b) => (a.p ?? 2) - (b.p ?? 2))
  const caution = predictedTide(sorted.map(({ factor }) => factor))
  const factors = sorted.map((one) => ({
    factor: one.factor,
    kind: factorOf(one.factor).kind,
    basis: one.basis,
    p: one.p,
    q: one.q,
    size: one.strongest === null ? null : sizeOf(one.strongest, one.nameOf),
    sentence: sayFactor(ask, one, one.q),
  }))
  return {
    outcome: ask.outcome,
    species: prepared === null ? namesAsked(ask) : speciesText(prepared),
    looked_at: looked.length,
    factors,
    cautions: caution === null ? [] : [caution],
  }
}

/** The factor's strongest pair, or null where fewer than two of its levels are known. */
function screen(prepared: Prepared, factor: FactorId, reader: ReaderUnits): Looked | null {
  const { gathered } = groupBy(prepared, factor)
  if (gathered.levels.length < 2) return null
  const { facts, ask, measure } = prepared
  const pairs = comparePairs(gathered, estimatorFor(outcomeOf(ask.outcome).kind, facts, measure, gathered))
  const within = compareWithin(prepared, factor, gathered, "trip")
  const inTrips = pairs.map((pair) => within?.pair(pair.a.label, pair.b.label) ?? null)
  const told = inTrips.some((one) => one?.kind === "told")
  const labels = gathered.levels.map(({ label }) => label)
  const { kind } = outcomeOf(ask.outcome)
  const asFished = kind === "chance" ? null : jointlyAsFished(gathered)
  const found = pairs.flatMap((pair, i): Found[] => {
    const one = inTrips[i]
    if (told && one?.kind !== "told") return []
    const estimate = told && one?.kind === "told" ? one.estimate : pair.estimate
    const shared = told && one?.kind === "told" ? one.shared : null
    return [{ pair, estimate, told: { told: true, estimate, q: null, shared } }]
  })
  return {
    factor,
    gathered,
    nameOf: levelNames(factor, labels, reader),
    basis: told ? "same_trip" : "raw",
    words: basisWords[told ? "same_trip" : "raw"],
    ...strongestOf(found, told ? (within?.jointly() ?? null) : asFished),
    model: null,
  }
}

function strongestOf(
  found: readonly Found[],
  jointly: number | null,
): Pick<Looked, "strongest" | "p" | "pairP"> {
  let strongest: Found | null = null
  let smallest = Number.POSITIVE_INFINITY
  for (const one of found)
    if (one.estimate.p !== null && one.estimate.p < smallest) {
      strongest = one
      smallest = one.estimate.p
    }
  const tests = found.filter(({ estimate }) => estimate.p !== null).length
  if (strongest === null) return { strongest, p: null, pairP: null }
  const pairP = Math.min(1, smallest * tests)
  return { strongest, p: jointly ?? pairP, pairP }
}

function withModel(prepared: Prepared, one: Looked, strongest: Found, adjusted: Adjusted): Looked {
  const { gathered, basis } = one
  if (basis === "same_trip") return { ...one, model: contrastOf(adjusted, strongest.pair) }
  const { facts, ask, measure } = prepared
  const pairs = comparePairs(gathered, estimatorFor(outcomeOf(ask.outcome).kind, facts, measure, gathered))
  const found = pairs.flatMap((pair): Found[] => {
    const estimate = contrastOf(adjusted, pair)
    return estimate === null
      ? []
      : [{ pair, estimate, told: { told: true, estimate, q: null, shared: null } }]
  })
  const best = strongestOf(found, jointlyAdjusted(adjusted))
  if (best.strongest === null) return one
  return { ...one, basis: "adjusted", words: adjustedWords(adjusted, best.strongest.pair), ...best }
}

const contrastOf = (adjusted: Adjusted, { a, b }: Pair): RatioEstimate | null =>
  adjusted.contrast(a.label, b.label, false)

const sizeOf = ({ pair: { a, b }, estimate: { ratio, low, high } }: Found, nameOf: NameOf) => ({
  ratio,
  low,
  high,
  of: `${nameOf(a.label)} over ${nameOf(b.label)}`,
})

function sayFactor(
  ask: Ask,
  { factor, nameOf, strongest, basis, words, model, p, pairP }: Looked,
  q: number | null,
): string {
  if (strongest === null)
    return `Cannot tell: no two levels of ${factorOf(factor).label.toLowerCase()} can be compared.`
  const { pair, estimate, told: ofPair } = strongest
  // the word is about the pair, which was chosen for its p among the factor's: both must hold
  const qOfPair = q === null ? null : Math.max(q, pairP ?? 1)
  const word = verdictOf(ask.outcome, pair, ofPair.told ? { ...ofPair, q: qOfPair } : ofPair, {
    asFished: basis === "adjusted" ? { told: true, estimate: pair.estimate, q: null, shared: null } : null,
    without: null,
    confounded: false,
  })
  const ratio = sayRatio({ outcome: ask.outcome, by: factor, nameOf }, pair, estimate)
  const told = basis === "raw" ? ratio : `${words}, ${uncapital(ratio)}`
  const differs = (p ?? 1) <= mostP && (q ?? 1) <= mostQ
  const led =
    differs && (pairP ?? 1) > mostP
      ? `${told} Taken together its levels differ (q ${qText(q ?? 1)}), more surely than any two of them.`
      : told
  if (model === null) return `${word}. ${led}`
  const agrees = agree(model, estimate) ? "agrees" : "differs"
  return `${word}. ${led} ${basisWords.adjusted}, over all trips: ${nameOf(pair.a.label)} over ${nameOf(pair.b.label)} is ${ratioText(model)}, which ${agrees}.`
}

const qText = (q: number): string => (q < 0.01 ? "below 0.01" : q.toFixed(2))
