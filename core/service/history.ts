import type { Handlers } from "../../shared/api.ts"
import { type Entity, entities, isEntity } from "../../shared/entities.ts"
import type { NextAct } from "../../shared/history.ts"
import { ProblemError } from "../../shared/problems.ts"
import type { Logbook } from "../store/logbook.ts"
import { nameAct } from "../store/nameAct.ts"
import { type OpenChange, put, rowById } from "../store/put.ts"
import { latestActs, oneAct } from "../store/read/acts.ts"
import { isNameTaken } from "../store/read/names.ts"
import { actBehind, undoable } from "../store/read/undoable.ts"
import { deletedThings, versionsOf } from "../store/read/versions.ts"
import { undoAct } from "../store/undo.ts"
import { requireCodes } from "./codes.ts"
import type { Queue } from "./queue.ts"

type Area = Pick<
  Handlers,
  | "history.list"
  | "history.undo"
  | "history.next"
  | "history.undo_last"
  | "history.redo"
  | "history.of"
  | "history.deleted"
  | "history.bring_back"
>

/** The history: the latest acts, undo and redo with words, what was deleted. What follows from it is worked out by itself. */
export const historyHandlers = (book: Logbook, queue: Queue, change: Queue): Area => ({
  "history.list": ({ count }) => queue(async () => book.read((db) => latestActs(db, count))),
  "history.undo": ({ act }) =>
    change(async () =>
      book.change((open) => {
        const behind = actBehind(open.db, act)
        const does = behind.does === "undo" ? "redo" : "undo"
        return takeBack(open, { act: behind.act, by: act, does })
      }),
    ),
  "history.next": () =>
    queue(async () =>
      book.read((db) => {
        const { undo, redo } = undoable(db)
        return {
          undo: undo === null ? null : nextAct(db, undo),
          redo: redo === null ? null : nextAct(db, redo.act),
        }
      }),
    ),
  "history.undo_last": () =>
    change(async () =>
      book.change((open) => {
        const { undo } = undoable(open.db)
        if (undo === null) throw new ProblemError("unknown_act", "There is nothing to undo.", {})
        const { blocked } = nextAct(open.db, undo)
        if (blocked !== null) throw new ProblemError("is_import", blocked, { batch: undo })
        return takeBack(open, { act: undo, by: undo, does: "undo" })
      }),
    ),
  "history.redo": () =>
    change(async () =>
      book.change((open) => {
        const { redo } = undoable(open.db)
        if (redo === null) throw new ProblemError("unknown_act", "There is nothing to do again.", {})
        return takeBack(open, { act: redo.act, by: redo.undoneBy, does: "redo" })
      }),
    ),
  "history.of": ({ entity, id }) =>
    queue(async () =>
      book.read((db) =>
        versionsOf(db, knownEntity(entity), id).map((version) => ({
          ...version,
          said: oneAct(db, version.act)?.said ?? "",
        })),
      ),
    ),
  "history.deleted": () => queue(async () => book.read(deletedThings)),
  "history.bring_back": ({ entity, id }) =>
    change(async () => book.change((open) => bringBack(open, knownEntity(entity), id))),
})

const nextAct = (db: OpenChange["db"], act: string): NextAct => {
  const found = oneAct(db, act)
  return {
    act,
    said: found?.said ?? "",
    blocked:
      found?.imported === true
        ? "The last act was an import: take it back as a whole, among the files."
        : null,
  }
}

/** Takes back what the act `by` did, which is `act` itself or what undid it. */
function takeBack(
  open: OpenChange,
  { act, by, does }: { readonly act: string; readonly by: string; readonly does: "undo" | "redo" },
): { act: string; said: string; rows: number } {
  const said = oneAct(open.db, act)?.said ?? act
  const rows = undoAct(open, by)
  nameAct(open, `${does === "undo" ? "undone" : "done again"}: ${said}`, { does, of: act })
  return { act: open.batch, said, rows }
}

function knownEntity(name: string): Entity {
  if (isEntity(name)) return name
  throw new ProblemError("bad_input", `There are no rows called "${name}" in a logbook.`, { entity: name })
}

/** Makes a deleted row live again. Throws ProblemError "bad_input" where its name or code is another's by now. */
function bringBack(open: OpenChange, entity: Entity, id: string): { act: string; said: string } {
  const row = rowById(open.db, entity, id)
  if (row === null || row.deleted_at === null)
    throw new ProblemError("bad_input", "That is not deleted, or was never there.", { entity, id })
  const name = "name" in row ? row.name : "date" in row ? row.date : null
  if ("name" in row && name !== null) requireFree(open, entity, name)
  if ("code" in row) requireCodes(open, id, { code: row.code })
  put(open, entity, entities[entity].parse({ ...row, deleted_at: null }))
  const said = `${entity.replaceAll("_", " ")} ${name ?? ""} brought back`.replaceAll("  ", " ")
  nameAct(open, said)
  return { act: open.batch, said }
}

function requireFree({ db }: OpenChange, entity: Entity, name: string): void {
  if (isNameTaken(db, entity, name))
    throw new ProblemError(
      "bad_input",
      `There is another ${entity.replaceAll("_", " ")} called ${name} by now. Rename that one first.`,
      { entity, name },
    )
}
