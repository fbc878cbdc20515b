import type { Handlers } from "../../shared/api.ts"
import type { Logbook } from "../store/logbook.ts"
import { latestActs } from "../store/read/acts.ts"
import { undoAct } from "../store/undo.ts"
import type { Queue } from "./queue.ts"

type Area = Pick<Handlers, "history.list" | "history.undo">

/** The latest acts, and taking them back. What followed from them is worked out again by itself. */
export const historyHandlers = (book: Logbook, queue: Queue, change: Queue): Area => ({
  "history.list": ({ count }) => queue(async () => book.read((db) => latestActs(db, count))),
  "history.undo": ({ act }) =>
    change(async () => book.change((open) => ({ act: open.batch, rows: undoAct(open, act) }))),
})
