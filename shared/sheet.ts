import { z } from "zod"
import { DayTotals, Unclear } from "./day.ts"

/** The columns of the day sheet, in order. */
export const sheetColumns = [
  "who",
  "start",
  "end",
  "spot",
  "presentation",
  "rods",
  "came",
  "readings",
  "why",
  "notes",
  "more",
] as const
export const SheetColumn = z.enum(sheetColumns)
export type SheetColumn = z.infer<typeof SheetColumn>

/** A cell as it is typed on the tape. `carried`: left empty, it would say the same, from the row above. */
export const SheetCell = z.object({
  text: z.string(),
  carried: z.boolean(),
  /** The cell read in words. */
  said: z.string(),
  /** Why it could not be read; it is kept as typed until fixed. */
  unclear: Unclear.nullable(),
})
export type SheetCell = z.infer<typeof SheetCell>

const text = z.string().max(10_000)
const cells = z.partialRecord(SheetColumn, text)

/**
 * One edit of a sheet. `was`, where given, is the text that the cell showed when it was changed: if it shows something else by
 * now, it is left as it is and told. Rows are named by their id; `after: null` is at the top, left out at the end.
 */
export const SheetEdit = z.discriminatedUnion("do", [
  z.object({ do: z.literal("set"), row: z.string(), column: SheetColumn, text, was: text.optional() }),
  z.object({ do: z.literal("add"), after: z.string().nullable().optional(), cells }),
  z.object({ do: z.literal("remove"), rows: z.array(z.string()).min(1) }),
  /** A block from a spreadsheet, from that cell right and down; rows that are not there are made. */
  z.object({
    do: z.literal("paste"),
    row: z.string().nullable(),
    column: SheetColumn,
    block: z.array(z.array(text)).min(1).max(2000),
  }),
  /** The text of the first row's cell into all of them. */
  z.object({ do: z.literal("fill"), rows: z.array(z.string()).min(2), column: SheetColumn }),
])
export type SheetEdit = z.infer<typeof SheetEdit>

/** Time between two rows that nobody accounts for, or that two rows share; each fix is one key. */
export const SheetTime = z.object({
  kind: z.enum(["gap", "overlap"]),
  /** The later row of the two. */
  row: z.string(),
  from: z.int(),
  to: z.int(),
  sentence: z.string(),
  fixes: z.array(z.object({ label: z.string(), edits: z.array(SheetEdit) })),
})
export type SheetTime = z.infer<typeof SheetTime>

export const Sheet = z.object({
  trip: z.string(),
  zone: z.string(),
  date: z.string(),
  rows: z.array(z.object({ id: z.string(), cells: z.record(SheetColumn, SheetCell) })),
  times: z.array(SheetTime),
  /** Lines of the tape that cannot be read yet, each before the row at its position. */
  lines: z.array(z.object({ position: z.int(), text: z.string(), unclear: Unclear.nullable() })),
  totals: DayTotals,
})
export type Sheet = z.infer<typeof Sheet>

export const SheetSaved = z.object({
  sheet: Sheet,
  /** What undoes it, and its words; null where nothing had to change. */
  act: z.string().nullable(),
  said: z.string().nullable(),
  /** The rows that were made, in order. */
  added: z.array(z.string()),
  /** Sentences on what was left as it is because it was changed elsewhere meanwhile. */
  told: z.array(z.string()),
})
export type SheetSaved = z.infer<typeof SheetSaved>

export const sheetMethods = {
  "day.cells": { input: z.object({ trip: z.string() }), output: Sheet },
  /** All edits of one call are one act. */
  "day.edit": {
    input: z.object({ trip: z.string(), edits: z.array(SheetEdit).min(1).max(2000) }),
    output: SheetSaved,
  },
} as const
