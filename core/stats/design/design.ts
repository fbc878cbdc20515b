import { type Matrix, fromColumns, selectColumns } from "../matrix/matrix.ts"
import { independentColumns } from "../matrix/rank.ts"
import { type Block, type Covariates, blockName, codeBlock } from "./block.ts"

/** A column left out because those kept make it up, with the ones that do; none where it is 0 throughout. */
export type Aliased = {
  readonly name: string
  readonly of: readonly { readonly name: string; readonly coefficient: number }[]
}

/** A model matrix with an intercept first, its columns independent, and what is needed to code other rows alike. */
export type Design = {
  readonly x: Matrix
  readonly names: readonly string[]
  readonly blocks: readonly Block[]
  /** Columns of x that belong to each block, first to last + 1; alike where all of a block were left out. */
  readonly spans: readonly { readonly name: string; readonly from: number; readonly to: number }[]
  readonly aliased: readonly Aliased[]
  /** Which of all coded columns are in x. */
  readonly kept: readonly number[]
}

const INTERCEPT = "intercept"

/** Codes rows by blocks, after an intercept. Going from left to right, a column that the ones before it make up is left out and
 *  named. Throws a RangeError as codeBlock does. */
export function makeDesign(blocks: readonly Block[], covariates: Covariates): Design {
  const coded = codeAll(blocks, covariates)
  const { kept, dependent } = independentColumns(coded.x)
  const name = (j: number): string => coded.names[j] ?? ""
  const before = (j: number): number => kept.filter((k) => k < j).length
  return {
    x: dependent.length === 0 ? coded.x : selectColumns(coded.x, kept),
    names: kept.map(name),
    blocks,
    spans: blocks.map((block, b) => ({
      name: blockName(block),
      from: before(coded.begins[b] ?? 0),
      to: before(coded.begins[b + 1] ?? 0),
    })),
    aliased: dependent.map(({ column, of }) => ({
      name: name(column),
      of: of.map((part) => ({ name: name(part.column), coefficient: part.coefficient })),
    })),
    kept,
  }
}

/** Other rows in the same columns: knots, levels and references are the design's. */
export function codeRows(design: Design, covariates: Covariates): Matrix {
  return selectColumns(codeAll(design.blocks, covariates).x, design.kept)
}

function codeAll(
  blocks: readonly Block[],
  covariates: Covariates,
): { x: Matrix; names: string[]; begins: number[] } {
  const names = [INTERCEPT]
  const columns: Float64Array[] = [new Float64Array(covariates.rows).fill(1)]
  const begins = [1]
  for (const block of blocks) {
    const coded = codeBlock(block, covariates)
    names.push(...coded.names)
    columns.push(...coded.columns)
    begins.push(columns.length)
  }
  return { x: fromColumns(columns, covariates.rows), names, begins }
}
