import type { Handlers } from "../../shared/api.ts"
import { counted } from "../../shared/figures.ts"
import type { FishEdit, FishList } from "../../shared/fishList.ts"
import { howAdded, runEdits } from "../day/editRun.ts"
import { fishListOf } from "../day/fish/fishList.ts"
import { FishRows } from "../day/fish/fishRows.ts"
import { sayLimits } from "../day/sayLimits.ts"
import type { Logbook } from "../store/logbook.ts"
import type { OpenChange } from "../store/put.ts"
import { speciesWithUse } from "../store/read/species.ts"
import { canonicalDay } from "../tape/canonical.ts"
import { contextOf, requireDay } from "./dayContext.ts"
import { weightsIn } from "./estimates.ts"
import { keepEdited } from "./keepEdited.ts"
import type { Queue } from "./queue.ts"
import { type ActDone, runActs } from "./sheetActs.ts"

type Area = Pick<Handlers, "fish.cells" | "fish.edit">

/** A trip's strikes as a list, and edits of it, each act one change of the day. */
export const fishListHandlers = (book: Logbook, queue: Queue, change: Queue): Area => ({
  "fish.cells": ({ trip }) => queue(async () => book.read((db) => listNow(db, trip))),
  "fish.edit": ({ trip, ...acts }) =>
    change(async () => {
      const done = runActs(book, acts, (open, edits) => editList(open, trip, edits))
      return { ...done, sheet: book.read((db) => listNow(db, trip)) }
    }),
})

function listNow(db: OpenChange["db"], trip: string): FishList {
  const day = requireDay(db, trip)
  const context = contextOf(db, day)
  const caught = new Set(day.stints.flatMap(({ strikes }) => strikes.map(({ species_id }) => species_id)))
  return {
    ...fishListOf(trip, day, context, weightsIn(db, context.reader)),
    limits: speciesWithUse(db).flatMap((species) =>
      caught.has(species.id) ? (sayLimits(species, context.reader) ?? []) : [],
    ),
  }
}

function editList(open: OpenChange, trip: string, edits: readonly FishEdit[]): ActDone {
  const stored = requireDay(open.db, trip)
  const rows = new FishRows(canonicalDay(stored), contextOf(open.db, stored))
  const { told, cells } = runEdits(rows, edits)
  const { made } = rows
  const { done, ...act } = keepEdited(open, { trip, stored, wanted: rows.day }, "sheet", () =>
    sayEdit(made.length, rows.removed, howAdded(edits), cells),
  )
  return { ...act, added: made.flatMap((id) => done.strikes.get(id) ?? []), told }
}

function sayEdit(made: number, removed: number, how: string, cells: number): string {
  if (made > 0) return `${counted(made, "strike")} ${how}`
  if (removed > 0) return `${counted(removed, "strike")} removed`
  return `${counted(cells, "cell")} of strikes changed`
}
