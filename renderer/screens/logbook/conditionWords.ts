import { factorIds, factorOf, isFactorId, type FactorId } from "../../../shared/factors.ts"
import { figure, listed } from "../../../shared/figures.ts"
import { quantityFigure, quantityText, readerUnit, type ReaderUnits } from "../../../shared/readerUnits.ts"
import { salinityWords } from "../../../shared/salinity.ts"
import type { TripPage } from "../../../shared/trips.ts"
import { units as unitTable } from "../../../shared/units.ts"
import { pointOf, tendencyOf } from "../../../shared/weather.ts"
import type { PageStint } from "./outcomeCells.ts"

type Condition = PageStint["conditions"][number]

/** A condition in words, with where it comes from. */
export type SaidCondition = { readonly label: string; readonly value: string; readonly source: string }

/** Angles that other lines tell in plainer words: the part of the tide, the moon's lit part, the stint's clock. */
const toldOtherwise: ReadonlySet<string> = new Set<FactorId>([
  "tide_phase_rad",
  "moon_phase_rad",
  "hour_local",
])

/** The conditions of a stint in words. */
export const sayConditions = (conditions: readonly Condition[], units: ReaderUnits): SaidCondition[] =>
  conditions.flatMap(({ factor, value, source }) =>
    isFactorId(factor) && !toldOtherwise.has(factor)
      ? [
          {
            label: factorOf(factor).label,
            value: `${valueText(factor, value, units)}${meant(factor, value)}`,
            source: sourceText(factor, source),
          },
        ]
      : [],
  )

/** A condition over the stints of a trip. `of`: how many stints it is known for. */
export type DayCondition = SaidCondition & { readonly of: number }

/**
 * The conditions of a whole trip, in catalogue order: each from least to most over its stints, or the words in the order
 * they came. What was observed, and what was worked out.
 */
export function sayDayConditions(
  page: TripPage,
  units: ReaderUnits,
): { readonly observed: DayCondition[]; readonly workedOut: DayCondition[] } {
  const all = page.stops.flatMap(({ stints }) => stints.flatMap(({ conditions }) => conditions))
  const byFactor = Map.groupBy(all, ({ factor }) => factor)
  const rows = factorIds.flatMap((factor) => {
    const some = byFactor.get(factor)
    if (some === undefined || toldOtherwise.has(factor)) return []
    const values = some.map(({ value }) => value)
    const kinds = new Set(some.map(({ source }) => kindOf(sourceText(factor, source))))
    return [
      {
        computed: factorOf(factor).home === "computed",
        label: factorOf(factor).label,
        value: spreadText(factor, values, units),
        source: listed([...kinds]),
        of: some.length,
      },
    ]
  })
  return {
    observed: rows.filter(({ computed }) => !computed),
    workedOut: rows.filter(({ computed }) => computed),
  }
}

/** Where values come from in short; how long a reading was carried is told with each stint. */
const kindOf = (source: string): string =>
  source.startsWith("carried ") ? "carried" : source.startsWith("between ") ? "between readings" : source

function spreadText(factor: FactorId, values: readonly (string | number)[], units: ReaderUnits): string {
  const numbers = values.filter((value) => typeof value === "number")
  if (numbers.length < values.length || factorOf(factor).kind === "cyclic")
    return listed([...new Set(values.map((value) => valueText(factor, value, units)))], 6)
  const [low, high] = [Math.min(...numbers), Math.max(...numbers)]
  const [from, to] = [valueText(factor, low, units), valueText(factor, high, units)]
  if (from === to) return `${to}${meant(factor, high)}`
  if (factor === "tide_spring_neap") return `${figure(low)} to ${to}`
  const unit = unitOf(factor)
  const spread = unit === null ? `${from} to ${to}` : `${quantityFigure(low, unit, units)} to ${to}`
  return factor === "salinity_psu" ? `${spread}, ${salinityWords(low, high)}` : spread
}

/** What a figure means where a word of its own says that. */
function meant(id: FactorId, value: string | number): string {
  if (typeof value === "string") return ""
  if (id === "salinity_psu") return `, ${salinityWords(value)}`
  return id === "barometer_3h_hpa" ? `, ${tendencyOf(value)}` : ""
}

const unitOf = (id: FactorId) => {
  const factor = factorOf(id)
  return factor.kind === "categorical" ? null : factor.unit
}

function valueText(id: FactorId, value: string | number, units: ReaderUnits): string {
  if (typeof value === "string") return value
  if (id === "wind_dir_deg") return `from ${pointOf(value)}`
  if (id === "moon_illum") return `${Math.round(100 * value)}%`
  if (id === "tide_spring_neap") return `${figure(value)} of the usual range`
  if (id === "cloud_okta") return `${value} of 8`
  const unit = unitOf(id)
  if (unit === null) return figure(value)
  return readerUnit(unit, units) === "deg"
    ? `${quantityFigure(value, unit, units)}${unitTable.deg.symbol}`
    : quantityText(value, unit, units)
}

/** Where a value comes from; what was worked out is stored with the version of its method, which is nobody's concern here. */
function sourceText(id: FactorId, source: string | null): string {
  if (source === null) return "source not noted"
  if (source === "imported") return "imported"
  if (source === "instrument") return "by instrument"
  return factorOf(id).home === "computed" ? "worked out" : source
}
