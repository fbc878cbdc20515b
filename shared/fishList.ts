import { z } from "zod"
import { actsOf, editOf, editsDone, SheetCell, type GridEdit } from "./sheet.ts"

/** The columns of a trip's list of fish and other strikes, in order. */
export const fishColumns = [
  "at",
  "stint",
  "fate",
  "species",
  "length",
  "weight",
  "took",
  "where",
  "kept",
] as const
export const FishColumn = z.enum(fishColumns)
export type FishColumn = z.infer<typeof FishColumn>

export const FishEdit = editOf(FishColumn)
export type FishEdit = GridEdit<FishColumn>

/** All strikes of a trip, a row each; an estimated weight is shown as carried, never as typed. */
export const FishList = z.object({
  trip: z.string(),
  rows: z.array(z.object({ id: z.string(), cells: z.record(FishColumn, SheetCell) })),
  /** The day's stints as the column `stint` names them: number and code, and the stint in words. */
  stints: z.array(z.object({ text: z.string(), said: z.string() })),
  /** What the user notes of sizes, bags and seasons of these species, with the words that go with it. */
  limits: z.array(z.string()),
})
export type FishList = z.infer<typeof FishList>

export const fishListMethods = {
  "fish.cells": { input: z.object({ trip: z.string() }), output: FishList },
  "fish.edit": { input: actsOf(FishEdit), output: z.object({ sheet: FishList, ...editsDone }) },
} as const
