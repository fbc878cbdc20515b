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

/**
 * One edit of a sheet with these columns; rows are named by their id, or by what a row made just before is called in `as`.
 * `was`, where given, is the text that the cell showed when it was changed: if it shows something else by now, it is left as
 * it is and told. A new row is at the top with `after: null`, at the end where that is left out.
 */
export const editOf = <const C extends Readonly<Record<string, string>>>(Column: z.ZodEnum<C>) =>
  z.discriminatedUnion("do", [
    z.object({ do: z.literal("set"), row: z.string(), column: Column, text, was: text.optional() }),
    z.object({
      do: z.literal("add"),
      after: z.string().nullable().optional(),
      as: z.string().optional(),
      cells: z.partialRecord(Column, text),
    }),
    z.object({ do: z.literal("remove"), rows: z.array(z.string()).min(1) }),
    /** A block from a spreadsheet, from that cell right and down; rows that are not there are made behind `after`, or the last. */
    z.object({
      do: z.literal("paste"),
      row: z.string().nullable(),
      after: z.string().optional(),
      column: Column,
      block: z.array(z.array(text)).min(1).max(2000),
    }),
    /** The text of the first row's cell into all of them. */
    z.object({ do: z.literal("fill"), rows: z.array(z.string()).min(2), column: Column }),
  ])

/** One edit of a sheet, whatever its columns. */
export type GridEdit<C extends string> =
  | { do: "set"; row: string; column: C; text: string; was?: string | undefined }
  | {
      do: "add"
      after?: string | null | undefined
      as?: string | undefined
      cells: Partial<Record<C, string>>
    }
  | { do: "remove"; rows: string[] }
  | { do: "paste"; row: string | null; after?: string | undefined; column: C; block: string[][] }
  | { do: "fill"; rows: string[]; column: C }

export const SheetEdit = editOf(SheetColumn)
export type SheetEdit = GridEdit<SheetColumn>

/** The acts of one call: `edits` are the first, and each list of `further` another one behind it, to be undone by itself. */
export const actsOf = <E extends z.ZodType>(edit: E) => {
  const edits = z.array(edit).min(1).max(2000)
  return z.object({ trip: z.string(), edits, further: z.array(edits).max(2000).optional() })
}

/** What became of the acts of one call, beside the sheet as it stands now. */
export const editsDone = {
  /** What undoes the last act that changed anything, and its words; null where nothing had to change. */
  act: z.string().nullable(),
  said: z.string().nullable(),
  /** The rows that were made, in order. */
  added: z.array(z.string()),
  /** Those of them that were given a name by `as`. */
  named: z.record(z.string(), z.string()),
  /** Sentences on what was left as it is because it was changed elsewhere meanwhile. */
  told: z.array(z.string()),
}

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

export const sheetMethods = {
  "day.cells": { input: z.object({ trip: z.string() }), output: Sheet },
  "day.edit": { input: actsOf(SheetEdit), output: z.object({ sheet: Sheet, ...editsDone }) },
} as const
