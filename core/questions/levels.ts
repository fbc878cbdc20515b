import type { FactColumn, Facts } from "../facts.ts"
import { octantOf, octants } from "../../shared/cyclicNames.ts"
import { factorOf, type Cyclic, type FactorId } from "../../shared/factors.ts"

/** A factor's levels and which of them each stint has: a position in `labels`, -1 where the value is unknown. */
export type Levels = { readonly labels: readonly string[]; readonly codes: Int32Array }

/**
 * Every level the factor could have here, and each stint's. Fixed lists and cuts give all of their levels whether
 * fished or not; whole numbers and free lists those that occur. `cuts` (SI, ascending) replace a continuous
 * factor's own. A factor that `facts` has no column for is unknown in every stint.
 */
export function levelsOf(facts: Facts, id: FactorId, cuts: readonly number[] | null = null): Levels {
  const factor = factorOf(id)
  const column = facts.factors[id]
  if (factor.kind === "continuous") {
    const at = cuts ?? factor.cuts
    return byNumber(facts, column, cutLabels(at), (value) => stretchOf(value, at))
  }
  if (factor.kind === "cyclic")
    return byNumber(facts, column, octantLabels(factor), (value) => octantOf(value, factor))
  if (factor.kind === "ordered") return byWholeNumber(facts, column)
  return byWord(facts, column, factor.levels)
}

/** `<12`, `12-<18`, `>=18`: the stretches between cuts (SI), in the shortest text that gives each number. */
export function cutLabels(cuts: readonly number[]): string[] {
  const first = cuts[0]
  const last = cuts.at(-1)
  if (first === undefined || last === undefined) return []
  return [`<${first}`, ...cuts.slice(1).map((cut, i) => `${cuts[i]}-<${cut}`), `>=${last}`]
}

/** Which of the stretches between ascending cuts holds a value. */
function stretchOf(value: number, cuts: readonly number[]): number {
  let passed = 0
  while (passed < cuts.length && value >= (cuts[passed] ?? Number.NaN)) passed++
  return passed
}

/** `0-<45` and so on: eight equal parts of the round from 0, the edges rounded to the factor's digits. */
export function octantLabels(factor: Cyclic): string[] {
  const edge = (i: number) => String(Number(((factor.period * i) / octants).toFixed(factor.digits)))
  return Array.from({ length: octants }, (_, i) => `${edge(i)}-<${edge(i + 1)}`)
}

function byNumber(
  facts: Facts,
  column: FactColumn | undefined,
  labels: readonly string[],
  levelOf: (value: number) => number,
): Levels {
  const codes = new Int32Array(facts.stints).fill(-1)
  if (column?.kind === "number")
    column.values.forEach((value, i) => {
      if (!Number.isNaN(value)) codes[i] = levelOf(value)
    })
  return { labels, codes }
}

function byWholeNumber(facts: Facts, column: FactColumn | undefined): Levels {
  const values = column?.kind === "number" ? [...new Set(column.values)].filter((v) => !Number.isNaN(v)) : []
  values.sort((a, b) => a - b)
  const position = new Map(values.map((value, i) => [value, i]))
  return byNumber(facts, column, values.map(String), (value) => position.get(value) ?? -1)
}

function byWord(facts: Facts, column: FactColumn | undefined, fixed: readonly string[] | null): Levels {
  const found = column?.kind === "level" ? column.levels : []
  const labels = fixed === null ? found : [...fixed, ...found.filter((word) => !fixed.includes(word))]
  const codes = new Int32Array(facts.stints).fill(-1)
  if (column?.kind === "level") {
    const position = found.map((word) => labels.indexOf(word))
    column.codes.forEach((code, i) => (codes[i] = position[code] ?? -1))
  }
  return { labels, codes }
}

/**
 * The levels in the order in which they are listed: as `labels` has them, but a list the user may extend by its
 * rod-hours, most first, then by name. `rodHours`: one position a label.
 */
export function listedOrder(id: FactorId, labels: readonly string[], rodHours: readonly number[]): number[] {
  const factor = factorOf(id)
  const order = labels.map((_, i) => i)
  if (factor.kind !== "categorical" || factor.levels !== null) return order
  return order.sort((a, b) => mostFished(a, b, rodHours, labels))
}

/** Sorts positions by rod-hours, most first, then by name. */
export function mostFished(
  a: number,
  b: number,
  rodHours: readonly number[],
  labels: readonly string[],
): number {
  const hours = (rodHours[b] ?? 0) - (rodHours[a] ?? 0)
  if (hours !== 0) return hours
  return (labels[a] ?? "") < (labels[b] ?? "") ? -1 : 1
}
