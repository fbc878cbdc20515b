import type { Block } from "../../stats/design/block.ts"
import { numbersAt, positionsWhere, valuesAt } from "../../stats/positions.ts"
import type { Gathered } from "../gather.ts"
import type { HeldAlike, NotHeld } from "../held/chooseHeld.ts"
import type { Covariate } from "../held/covariate.ts"
import type { Prepared } from "../prepare.ts"
import { blocksOf, designedRows, valuesOf, type Designed } from "./fitModel.ts"
import { levelsTold } from "./levelsTold.ts"
import { modelRows, pickRows, type ModelRows } from "./modelRows.ts"
import { hiddenBy, tellApart } from "./tellApart.ts"

/** The name of the compared factor's covariate in a model. */
export const comparedName = "compared"

/** Some of a question's levels as a block of a model, with the rows fished at them. */
export type LevelBlock = {
  readonly labels: readonly string[]
  readonly block: Block & { readonly kind: "categorical" }
  readonly values: ReadonlyMap<string, Float64Array>
  readonly rows: ModelRows
}

/** Which levels a model can compare, and with what held alike. */
export type ComparedLevels = LevelBlock & {
  readonly kept: readonly Covariate[]
  /** The rows coded by the block and what is held alike, where that is at hand. */
  readonly designed?: Designed | undefined
  /** What cannot be told from the factor compared: a difference may be its. */
  readonly confounded: readonly NotHeld[]
  /** Levels that cannot be told from something held alike. */
  readonly apart: readonly string[]
  /** Levels fished without an event. */
  readonly empty: readonly string[]
  /** Levels of a share none of whose trials failed. */
  readonly full: readonly string[]
  /** The same with other levels. */
  with(labels: readonly string[]): LevelBlock
}

export function comparedLevels(prepared: Prepared, gathered: Gathered, held: HeldAlike): ComparedLevels {
  const { facts } = prepared
  const known = modelRows(prepared, held.rows)
  const codes = new Float64Array(facts.stints).fill(Number.NaN)
  gathered.levels.forEach(({ rows }, level) => {
    for (const row of rows) codes[row] = level
  })
  const told = levelsTold(
    known,
    valuesAt(codes, known.stint),
    numbersAt(facts.trip, known.stint),
    gathered.levels.length,
  )
  const labelOf = (level: number) => gathered.levels[level]?.label ?? ""
  const blockOf = (levels: readonly number[]): LevelBlock => {
    const labels = levels.map(labelOf)
    const place = new Float64Array(gathered.levels.length).fill(Number.NaN)
    levels.forEach((level, at) => (place[level] = at))
    const values = codes.map((code) => place[code] ?? Number.NaN)
    const rows = pickRows(
      known,
      positionsWhere(known.stint.length, (i) => !Number.isNaN(values[known.stint[i] ?? -1] ?? Number.NaN)),
    )
    return {
      labels,
      block: { kind: "categorical", covariate: comparedName, levels: labels, reference: 0 },
      values: new Map([[comparedName, values]]),
      rows,
    }
  }
  let designed: Designed | undefined
  const hidden = (levels: readonly number[]): boolean => {
    designed = undefined
    const { block, values, rows } = blockOf(levels)
    if (levels.length < 2 || held.covariates.length === 0 || rows.y.length === 0) return false
    const all = new Map([...values, ...valuesOf(held.covariates)])
    const coded = designedRows(facts, rows, [block, ...blocksOf(held.covariates)], all)
    // where every column stands on its own, no order of them hides one
    if (coded.design.aliased.length > 0) return hiddenBy(rows, block, values, held.covariates)
    designed = coded
    return false
  }
  let levels = told.flatMap(({ events }, level) => (events > 0 ? [level] : []))
  const apart: string[] = []
  let clear = !hidden(levels)
  while (levels.length > 2 && !clear) {
    const alone = levels
      .toSorted((a, b) => (told[a]?.weight ?? 0) - (told[b]?.weight ?? 0))
      .find((level) => !hidden(levels.filter((other) => other !== level)))
    if (alone === undefined) break
    levels = levels.filter((other) => other !== alone)
    apart.push(labelOf(alone))
    clear = !hidden(levels)
  }
  const own = blockOf(levels)
  return {
    ...own,
    ...(clear
      ? { kept: held.covariates, confounded: [], designed }
      : tellApart(own.rows, own.block, own.values, held.covariates)),
    apart,
    empty: told.flatMap(({ rows, successes }, level) =>
      rows > 0 && successes === 0 ? [labelOf(level)] : [],
    ),
    full: told.flatMap(({ events, successes }, level) =>
      successes > 0 && events === 0 ? [labelOf(level)] : [],
    ),
    with: (labels) =>
      blockOf(labels.map((label) => gathered.levels.findIndex((group) => group.label === label))),
  }
}
