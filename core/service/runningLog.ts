import type { Handlers } from "../../shared/api.ts"
import type { LogAct, LogState } from "../../shared/runningLog.ts"
import { reconcileDay } from "../day/reconcile.ts"
import { logged, runningIn } from "../day/runningLog.ts"
import type { Logbook } from "../store/logbook.ts"
import { nameAct } from "../store/nameAct.ts"
import type { OpenChange } from "../store/put.ts"
import { oneAct } from "../store/read/acts.ts"
import { undoable } from "../store/read/undoable.ts"
import { canonicalDay } from "../tape/canonical.ts"
import { contextOf, requireDay } from "./dayContext.ts"
import type { Queue } from "./queue.ts"

type Area = Pick<Handlers, "log.state" | "log.act">

/** Fishing as it goes: each key is an act of its own, on disk before it is answered. Nothing of it is kept in memory. */
export const runningLogHandlers = (book: Logbook, queue: Queue, change: Queue): Area => ({
  "log.state": ({ trip }) => queue(async () => book.read((db) => stateOf(db, trip))),
  "log.act": ({ trip, act }) =>
    change(async () => {
      book.change((open) => keep(open, trip, act))
      return book.read((db) => stateOf(db, trip))
    }),
})

function keep(open: OpenChange, trip: string, act: LogAct): void {
  const stored = requireDay(open.db, trip)
  const { day, said } = logged(canonicalDay(stored), act, Date.now(), contextOf(open.db, stored))
  reconcileDay(open, trip, stored, day, "log")
  nameAct(open, said)
}

function stateOf(db: OpenChange["db"], trip: string): LogState {
  const { undo } = undoable(db)
  return {
    trip,
    running: runningIn(canonicalDay(requireDay(db, trip))),
    now: Date.now(),
    act: undo,
    said: undo === null ? null : (oneAct(db, undo)?.said ?? null),
  }
}
