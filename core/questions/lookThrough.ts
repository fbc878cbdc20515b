import type { Facts } from "../facts.ts"
import { benjaminiHochberg } from "../stats/benjaminiHochberg.ts"
import type { LookThrough } from "../../shared/answer.ts"
import { factorIds, factorOf, type FactorId } from "../../shared/factors.ts"
import { ProblemError } from "../../shared/problems.ts"
import type { Ask } from "../../shared/questions.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import { predictedTide } from "./cautions.ts"
import { estimatorFor } from "./estimate.ts"
import { levelNames, type NameOf } from "../../shared/figures.ts"
import { outcomeOf } from "./outcomes.ts"
import { comparePairs, type Pair } from "./pairs.ts"
import { groupBy, namesAsked, prepare, speciesText, type Prepared } from "./prepare.ts"
import { emptyLogbook, notYet } from "./refuse.ts"
import { sayRatio, verdictOf } from "./say.ts"

type Looked = {
  readonly factor: FactorId
  readonly nameOf: NameOf
  readonly strongest: Pair | null
  readonly p: number | null
}

/**
 * Looks through every factor with two or more known levels for a difference in one outcome, as fished. A factor's p is
 * that of its pair of levels with the smallest p, times the number of pairs (Bonferroni); q is Benjamini-Hochberg over
 * the factors. Sorted by p; told in the reader's units. The first tide or current in the list carries, at the end of its
 * sentence, what to know of predicted water. Throws ProblemError `bad_ask` where a comparison does, and for
 * what this version cannot do, for a look through has no refusal of its own.
 */
export function lookThrough(facts: Facts, ask: Ask, reader: ReaderUnits): LookThrough {
  const unable = notYet(ask)
  if (unable !== null) throw new ProblemError("bad_ask", unable.text, { reason: unable.code })
  const prepared = emptyLogbook(facts) === null ? prepare(facts, ask) : null
  const looked =
    prepared === null ? [] : factorIds.flatMap((factor) => lookAt(prepared, factor, reader) ?? [])
  const q = benjaminiHochberg(looked.map(({ p }) => p))
  const sorted = looked
    .map((one, i) => ({ ...one, q: q[i] ?? null }))
    .toSorted((a, b) => (a.p ?? 2) - (b.p ?? 2))
  const predicted = sorted.findIndex(({ factor }) => predictedTide([factor]) !== null)
  const caution = predictedTide(sorted.map(({ factor }) => factor))
  const factors = sorted.map((one, i) => ({
    factor: one.factor,
    kind: factorOf(one.factor).kind,
    basis: "raw" as const,
    p: one.p,
    q: one.q,
    size: one.strongest === null ? null : sizeOf(one.strongest, one.nameOf),
    sentence: `${sayFactor(ask, one, one.q)}${i === predicted ? ` ${caution?.text ?? ""}` : ""}`,
  }))
  return {
    outcome: ask.outcome,
    species: prepared === null ? namesAsked(ask) : speciesText(prepared),
    looked_at: looked.length,
    factors,
  }
}

/** The factor's strongest pair, or null where fewer than two of its levels are known. */
function lookAt(prepared: Prepared, factor: FactorId, reader: ReaderUnits): Looked | null {
  const { gathered } = groupBy(prepared, factor)
  if (gathered.levels.length < 2) return null
  const { facts, ask, measure } = prepared
  const pairs = comparePairs(gathered, estimatorFor(outcomeOf(ask.outcome).kind, facts, measure, gathered))
  let strongest: Pair | null = null
  let smallest = Number.POSITIVE_INFINITY
  for (const pair of pairs)
    if (pair.estimate.p !== null && pair.estimate.p < smallest) {
      strongest = pair
      smallest = pair.estimate.p
    }
  const tests = pairs.filter(({ estimate }) => estimate.p !== null).length
  const labels = gathered.levels.map(({ label }) => label)
  return {
    factor,
    nameOf: levelNames(factor, labels, reader),
    strongest,
    p: strongest === null ? null : Math.min(1, smallest * tests),
  }
}

const sizeOf = ({ a, b, estimate: { ratio, low, high } }: Pair, nameOf: NameOf) => ({
  ratio,
  low,
  high,
  of: `${nameOf(a.label)} over ${nameOf(b.label)}`,
})

function sayFactor(ask: Ask, { factor, nameOf, strongest }: Looked, q: number | null): string {
  if (strongest === null)
    return `Too few trips to say: no two levels of ${factorOf(factor).label.toLowerCase()} can be compared.`
  const word = verdictOf(ask.outcome, { ...strongest, q })
  return `${word}. ${sayRatio({ outcome: ask.outcome, by: factor, nameOf }, strongest)}`
}
