import { uncapital } from "../../shared/casing.ts"
import type { Answer } from "../../shared/answer.ts"
import { factorOf, type FactorId } from "../../shared/factors.ts"
import { levelNames } from "../../shared/figures.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import { LEAST_DF } from "../stats/inference/adjustedContrast.ts"
import { likelihoodRatioF } from "../stats/inference/contrast.ts"
import type { Block } from "../stats/design/block.ts"
import { positionsWhere } from "../stats/positions.ts"
import { shrinkRates } from "../stats/shrinkage/rates.ts"
import { adjust, isAdjusted } from "./bases/adjusted.ts"
import { basisWords } from "./bases/basisWords.ts"
import { blocksOf, designedRows, fitModel, isFitted, valuesOf } from "./bases/fitModel.ts"
import { comparedName } from "./bases/comparedLevels.ts"
import { estimatorFor } from "./estimate.ts"
import { gather, total, tripsOf, type Gathered } from "./gather.ts"
import { covariateOf } from "./held/covariate.ts"
import { levelsOf, listedOrder } from "./levels.ts"
import { outcomeOf } from "./outcomes.ts"
import { pickRows } from "./bases/modelRows.ts"
import { pairAmong } from "./pairAmong.ts"
import type { Pair } from "./pairs.ts"
import type { Prepared } from "./prepare.ts"
import { ratioText } from "./ratio.ts"

type Depends = NonNullable<Answer["depends"]>

/** The adjusted answer of the same question, where it is at hand. */
type Usual = ReturnType<typeof adjust> | null

/**
 * Whether what a factor does depends on another one: the model of the adjusted answer with and without their product, one
 * likelihood-ratio F test; the leading pair at each of the modifier's levels, on the basis that leads there; and every cell,
 * drawn towards what all cells have in common. Numbers enter the product as straight lines, words by their levels. Null where
 * there is no model.
 */
export function dependsOn(
  prepared: Prepared,
  by: FactorId,
  gathered: Gathered,
  first: Pair | null,
  modifier: FactorId,
  reader: ReaderUnits,
  known: Usual,
): Depends {
  const levels = modifierLevels(prepared, modifier, gathered)
  const names = levels.map(({ label }) => label)
  const nameOf = levelNames(modifier, names, reader)
  const test = interactionTest(prepared, by, gathered, modifier, known)
  return {
    modifier,
    ...test,
    levels:
      first === null ? [] : levels.flatMap((level) => pairAt(prepared, by, gathered, first, level, nameOf)),
    cells: cellsOf(prepared, gathered, levels),
  }
}

type Level = { readonly label: string; readonly stints: ReadonlySet<number> }

/** The modifier's levels that occur among the stints of the question, in the order in which they are listed. */
function modifierLevels({ facts }: Prepared, modifier: FactorId, { all }: Gathered): Level[] {
  const { labels, codes } = levelsOf(facts, modifier)
  const sets = labels.map(() => new Set<number>())
  for (const stint of all.rows) sets[codes[stint] ?? -1]?.add(stint)
  const hours = sets.map((set) => [...set].reduce((sum, stint) => sum + (facts.rod_hours[stint] || 0), 0))
  return listedOrder(modifier, labels, hours).flatMap((level) => {
    const stints = sets[level]
    return stints === undefined || stints.size === 0 ? [] : { label: labels[level] ?? "", stints }
  })
}

const isNumber = (id: FactorId): boolean => {
  const factor = factorOf(id)
  return factor.kind === "continuous"
}

function interactionTest(
  prepared: Prepared,
  by: FactorId,
  gathered: Gathered,
  modifier: FactorId,
  known: Usual,
): Pick<Depends, "p" | "f" | "columns" | "df" | "how" | "why"> {
  const none = (why: string) => ({ p: null, f: null, columns: null, df: null, how: "", why })
  const { facts, ask } = prepared
  const adjusted = adjust(
    { ...prepared, ask: { ...ask, given: [...new Set([...(ask.given ?? []), modifier])] } },
    by,
    gathered,
    known !== null && isAdjusted(known) ? known.model : undefined,
  )
  const usual = ask.given === null ? (known ?? adjust(prepared, by, gathered)) : adjusted
  if (!isAdjusted(adjusted)) return none(adjusted.text)
  const held = isAdjusted(usual) ? usual.held.filter(({ factor }) => factor !== modifier) : []
  const own = adjusted.held.find(({ factor }) => factor === modifier)
  if (own === undefined) return none(`${factorOf(modifier).label} does not vary enough.`)
  const { compared } = adjusted
  const line = isNumber(modifier) ? covariateOf(facts, modifier, gathered.all.rows, true) : own
  const rows = adjusted.model.rows
  const byLine = isNumber(by) ? covariateOf(facts, by, [...rows.stint], true) : null
  if (line === null) return none(`${factorOf(modifier).label} does not vary enough.`)
  const first: Block[] = byLine === null ? [compared.block] : [...byLine.blocks]
  const products = first.flatMap((a) => line.blocks.map((b): Block => ({ kind: "interaction", of: [a, b] })))
  const values = new Map([
    ...valuesOf(held),
    ...own.values,
    ...line.values,
    ...compared.values,
    ...(byLine?.values ?? []),
  ])
  // the product of two lines says only what it should beside both lines
  const main = [compared.block, ...(byLine?.blocks ?? []), ...own.blocks, ...blocksOf(held)]
  const names = new Set([comparedName])
  const at = keepKnown(rows, values)
  const without = fitModel(facts, at, main, values, names, {
    near: isAdjusted(usual) ? usual.model : adjusted.model,
  })
  if (!isFitted(without)) return none(without.text)
  const crossed = [...main, ...products]
  // What falls where the two cross without an event, or without a failure, is foretold by their product alone and adds nothing to
  // its likelihood, at its limit.
  const full = fitModel(facts, without.rows, crossed, values, new Set(), { near: without })
  if (!isFitted(full)) return none(full.text)
  const df = full.contrasted.df
  const whole = full.foretold === 0 ? full.design : designedRows(facts, without.rows, crossed, values).design
  const columns = whole.x.cols - without.design.x.cols
  if (columns < 1 || df < LEAST_DF) return none("The levels of the two never cross.")
  const { f, p } = likelihoodRatioF(full.fit.logLik, without.fit.logLik, columns, df)
  const how = `${byLine === null ? "levels" : "a straight line"} by ${isNumber(modifier) ? "a straight line" : line.how}`
  return { p, f, columns, df, how, why: null }
}

function keepKnown(rows: Parameters<typeof fitModel>[1], values: ReadonlyMap<string, Float64Array>) {
  const columns = [...values.values()]
  const kept = positionsWhere(rows.stint.length, (i) =>
    columns.every((column) => !Number.isNaN(column[rows.stint[i] ?? -1] ?? Number.NaN)),
  )
  return pickRows(rows, kept)
}

/** The leading pair among the stints at one level of the modifier. */
function pairAt(
  prepared: Prepared,
  by: FactorId,
  gathered: Gathered,
  pair: Pair,
  level: Level,
  nameOf: (label: string) => string,
): Depends["levels"] {
  const found = pairAmong(prepared, by, gathered, pair, (stint) => level.stints.has(stint))
  if (found === null) return []
  const { trips } = found
  if (found.estimate === null)
    return [
      {
        at: level.label,
        basis: "raw",
        ratio: null,
        low: null,
        high: null,
        trips: [...trips],
        sentence: `${nameOf(level.label)}: not both were fished.`,
      },
    ]
  const { ratio, low, high } = found.estimate
  const words = basisWords[found.basis]
  return [
    {
      at: level.label,
      basis: found.basis,
      ratio,
      low,
      high,
      trips: [...trips],
      sentence: `${nameOf(level.label)}: ${ratioText(found.estimate)}, ${uncapital(words)}.`,
    },
  ]
}

/** Every level at every level of the modifier. */
function cellsOf(prepared: Prepared, gathered: Gathered, levels: readonly Level[]): Depends["cells"] {
  const { facts, measure, ask } = prepared
  const cells = gathered.levels.flatMap(({ label, rows }) =>
    levels.flatMap((level) => {
      const own = rows.filter((stint) => level.stints.has(stint))
      return own.length === 0 ? [] : { label: label, at: level.label, rows: own }
    }),
  )
  const here = gather(
    facts,
    measure,
    cells.map(({ rows }, k) => ({ label: String(k), rows })),
  )
  const { kind } = outcomeOf(ask.outcome)
  const estimator = estimatorFor(kind, facts, measure, here)
  const shrunk =
    kind === "rate"
      ? shrinkRates(
          Float64Array.from(here.levels, ({ events }) => total(events)),
          Float64Array.from(here.levels, ({ exposure }) => total(exposure)),
        )
      : null
  return cells.map(({ label, at }, k) => {
    const group = here.levels[k]
    const raw = group === undefined ? null : estimator.level(group).raw
    return {
      level: label,
      at,
      estimate: shrunk?.[k]?.estimate ?? raw?.estimate ?? null,
      raw: raw?.estimate ?? null,
      low: raw?.low ?? null,
      high: raw?.high ?? null,
      trips: group === undefined ? 0 : tripsOf(group),
      rod_hours: group?.rodHours ?? 0,
    }
  })
}

/** What the test says, in words. */
export function sayDepends(
  { p, why, levels }: Depends,
  modifier: FactorId,
  nameA: string,
  nameB: string,
): string {
  const name = factorOf(modifier).label.toLowerCase()
  const at = levels.filter(({ ratio }) => ratio !== null).map(({ sentence }) => sentence.replace(/\.$/, ""))
  const told = at.length === 0 ? "" : ` ${nameA} over ${nameB}, ${at.join("; ")}.`
  if (p === null) return `Whether it depends on ${name} cannot be told: ${uncapital(why ?? "")}${told}`
  const figure = p < 0.001 ? "below 0.001" : p.toFixed(p < 0.01 ? 3 : 2)
  if (p <= 0.01) return `It depends on ${name} (p ${figure}).${told}`
  if (p <= 0.05) return `It may depend on ${name} (p ${figure}).${told}`
  return `No sign that it depends on ${name} (p ${figure}).${told}`
}
