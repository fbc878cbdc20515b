import type { Handlers } from "../../shared/api.ts"
import { counted } from "../../shared/figures.ts"
import type { Sheet, SheetEdit } from "../../shared/sheet.ts"
import { applyEdits, type Edited } from "../day/edits.ts"
import type { Reconciled } from "../day/reconcile.ts"
import { sheetOf } from "../day/sheet.ts"
import { sayDone } from "../day/words.ts"
import type { Logbook } from "../store/logbook.ts"
import type { OpenChange } from "../store/put.ts"
import { canonicalDay } from "../tape/canonical.ts"
import { contextOf, requireDay } from "./dayContext.ts"
import { keepEdited } from "./keepEdited.ts"
import type { Queue } from "./queue.ts"
import { type ActDone, runActs } from "./sheetActs.ts"

type Area = Pick<Handlers, "day.cells" | "day.edit">

/** The day sheet: its cells as text, and edits of them, each call one act. */
export const sheetHandlers = (book: Logbook, queue: Queue, change: Queue): Area => ({
  "day.cells": ({ trip }) => queue(async () => book.read((db) => sheetNow(db, trip))),
  "day.edit": ({ trip, ...acts }) =>
    change(async () => {
      const done = runActs(book, acts, (open, edits) => editSheet(open, trip, edits))
      return { ...done, sheet: book.read((db) => sheetNow(db, trip)) }
    }),
})

function sheetNow(db: OpenChange["db"], trip: string): Sheet {
  const day = requireDay(db, trip)
  return sheetOf(trip, day, contextOf(db, day))
}

function editSheet(open: OpenChange, trip: string, edits: readonly SheetEdit[]): ActDone {
  const stored = requireDay(open.db, trip)
  const context = contextOf(open.db, stored)
  const edited = applyEdits(canonicalDay(stored), edits, context)
  const { done, ...act } = keepEdited(open, { trip, stored, wanted: edited.day }, "sheet", (made) =>
    sayEdit(made, edited),
  )
  return { ...act, added: edited.added.flatMap((at) => done.ids[at] ?? []), told: edited.told }
}

/** "3 cells changed" where no row came or went; else what became of the stints. */
function sayEdit(done: Reconciled, { how, cells }: Edited): string {
  const { made, removed } = done.stints
  return made + removed === 0 && cells > 0 ? `${counted(cells, "cell")} changed` : sayDone(done, how)
}
