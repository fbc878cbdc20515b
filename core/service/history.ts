import type { Handlers } from "../../shared/api.ts"
import { type Entity, entities, isEntity } from "../../shared/entities.ts"
import type { NextAct } from "../../shared/history.ts"
import { ProblemError } from "../../shared/problems.ts"
import { takeBackImport } from "../exchange/takeBack.ts"
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
        return oneAct(open.db, undo)?.imported === true
          ? undoImport(open, undo)
          : takeBack(open, { act: undo, by: undo, does: "undo" })
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

const nextAct = (db: OpenChange["db"], act: string): NextAct => ({ act, said: oneAct(db, act)?.said ?? "" })

/** Takes the latest act back, which is an import: whole, so that its files can be read again. All that came later is undone. */
function undoImport(open: OpenChange, act: string): { act: string; said: string; rows: number } {
  const said = oneAct(open.db, act)?.said ?? act
  const { removed } = takeBackImport(open, act, true)
  nameAct(open, `undone: ${said}`, { does: "undo", of: act })
  return { act: open.batch, said, rows: Object.values(removed).reduce((sum, rows) => sum + rows, 0) }
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
