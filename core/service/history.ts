import type { Handlers } from "../../shared/api.ts"
import type { Logbook } from "../store/logbook.ts"
import { undoAct } from "../store/undo.ts"
import type { Queue } from "./queue.ts"

type Area = Pick<Handlers, "history.undo">

/** Taking acts back. What followed from them is worked out again by itself. */
export const historyHandlers = (book: Logbook, change: Queue): Area => ({
  "history.undo": ({ act }) =>
    change(async () => book.change((open) => ({ act: open.batch, rows: undoAct(open, act) }))),
})
