import type { Block } from "../../stats/design/block.ts"
import { makeDesign } from "../../stats/design/design.ts"
import type { Covariate } from "../held/covariate.ts"
import type { NotHeld } from "../held/chooseHeld.ts"
import { blocksOf, covariatesAt, valuesOf } from "./fitModel.ts"
import type { ModelRows } from "./modelRows.ts"

type Values = ReadonlyMap<string, Float64Array>

/** Whether covariates make up a column of the compared block, so that no model can tell the two from each other. */
export function hiddenBy(
  rows: ModelRows,
  own: Block,
  values: Values,
  covariates: readonly Covariate[],
): boolean {
  if (covariates.length === 0 || rows.y.length === 0) return false
  const all = new Map([...valuesOf(covariates), ...values])
  const { spans, aliased } = makeDesign([...blocksOf(covariates), own], covariatesAt(all, rows))
  if (aliased.length === 0) return false
  const span = spans.at(-1)
  const alone = makeDesign([own], covariatesAt(values, rows)).x.cols - 1
  return span !== undefined && span.to - span.from < alone
}

/**
 * Leaves out what cannot be told from what is compared: covariates that alone, or else together with others, make up one of
 * the compared block's columns. Those named stay confounded with it, which the answer must say.
 */
export function tellApart(
  rows: ModelRows,
  own: Block,
  values: Values,
  covariates: readonly Covariate[],
): { readonly kept: readonly Covariate[]; readonly confounded: readonly NotHeld[] } {
  const confounded: NotHeld[] = []
  let kept = covariates
  const leave = (covariate: Covariate): void => {
    confounded.push({
      factor: covariate.factor,
      why: "it goes along with what is compared and cannot be told from it",
    })
    kept = kept.filter((other) => other !== covariate)
  }
  if (!hiddenBy(rows, own, values, kept)) return { kept, confounded }
  for (const covariate of covariates) if (hiddenBy(rows, own, values, [covariate])) leave(covariate)
  for (let last = kept.at(-1); last !== undefined && hiddenBy(rows, own, values, kept); last = kept.at(-1))
    leave(last)
  return { kept, confounded }
}
