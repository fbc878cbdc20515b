import type { Day, DayStint, DayStrike } from "../../../shared/day.ts"
import type { FishColumn, FishList } from "../../../shared/fishList.ts"
import { quantityFigure, quantityText } from "../../../shared/readerUnits.ts"
import type { SheetCell } from "../../../shared/sheet.ts"
import { canonicalDay } from "../../tape/canonical.ts"
import { clockWords } from "../../tape/clock.ts"
import type { TapeContext } from "../../tape/context.ts"
import type { TapeDay } from "../../tape/reader.ts"
import { strikeText } from "./fishCells.ts"
import { FishRows } from "./fishRows.ts"
import { stintText } from "./fishStint.ts"
import { strikePlace } from "../strikePlace.ts"
import { unclearCell } from "../cells/unclearCell.ts"

/** A weight by the user's own weighed fish, grams, and what it stands on; null where they do not tell. */
export type Estimate = (species: string, length_mm: number) => { weight_g: number | null; said: string }

/** A stored day's strikes as a list, each cell as it is typed. Weights that were not taken are estimated where they can be, and say so. */
export function fishListOf(
  trip: string,
  stored: Day,
  context: TapeContext,
  estimate: Estimate,
): Omit<FishList, "limits"> {
  const day = canonicalDay(stored)
  const rows = new FishRows(day, context)
  const cell = (stint: number, strike: DayStrike) => (column: FishColumn) =>
    cellOf(rows, day, stint, strike, column, context, estimate)
  return {
    trip,
    rows: day.stints.flatMap(({ strikes }, stint) =>
      strikes.map((strike) => ({ id: strike.id ?? "", cells: rowOf(cell(stint, strike)) })),
    ),
    stints: day.stints.map((stint, at) => ({
      text: stintText(day.stints, at, context),
      said: sayStint(stint, context),
    })),
  }
}

const rowOf = (of: (column: FishColumn) => SheetCell): Record<FishColumn, SheetCell> => ({
  at: of("at"),
  stint: of("stint"),
  fate: of("fate"),
  species: of("species"),
  length: of("length"),
  weight: of("weight"),
  took: of("took"),
  where: of("where"),
  kept: of("kept"),
})

function cellOf(
  rows: FishRows,
  day: TapeDay,
  stint: number,
  strike: DayStrike,
  column: FishColumn,
  context: TapeContext,
  estimate: Estimate,
): SheetCell {
  const id = strike.id ?? ""
  const kept = day.unread.find(({ place }) => place === strikePlace(id, column))
  if (kept !== undefined)
    return {
      text: kept.text,
      carried: false,
      said: "",
      unclear: unclearCell(kept.text, () => new FishRows(day, context).set(id, column, kept.text)),
    }
  if (column === "stint")
    return {
      text: rows.text(id, column),
      carried: false,
      said: sayStint(day.stints[stint], context),
      unclear: null,
    }
  const text = strikeText(strike, column, context)
  const { species_id, length_mm } = strike
  if (column === "weight" && text === "" && species_id !== null && length_mm !== null) {
    const { weight_g, said } = estimate(species_id, length_mm)
    return {
      text: weight_g === null ? "" : `est. ${quantityFigure(weight_g / 1000, "kg", context.reader)}`,
      carried: weight_g !== null,
      said,
      unclear: null,
    }
  }
  return { text, carried: false, said: saidOf(strike, column, text, context), unclear: null }
}

function saidOf(
  { species_id, length_mm, weight_g }: DayStrike,
  column: FishColumn,
  text: string,
  { names, reader }: TapeContext,
): string {
  if (column === "species" && species_id !== null) return names.nameOf(species_id)
  if (column === "length" && length_mm !== null) return quantityText(length_mm, "mm", reader)
  if (column === "weight" && weight_g !== null) return quantityText(weight_g / 1000, "kg", reader)
  return text
}

function sayStint(stint: DayStint | undefined, { names, place }: TapeContext): string {
  if (stint === undefined) return ""
  const { presentation_id, start_at, end_at } = stint
  const clock = (at: number | null): string => (at === null ? "?" : clockWords(at, place.zone))
  const when = start_at === null && end_at === null ? "no clock" : `${clock(start_at)} to ${clock(end_at)}`
  return `${when}, ${presentation_id === null ? "no presentation named" : names.nameOf(presentation_id)}`
}
