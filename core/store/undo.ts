import type { Database } from "better-sqlite3"
import { z } from "zod"
import { entities, isEntity, type Entity } from "../../shared/entities.ts"
import { ProblemError } from "../../shared/problems.ts"
import { historyNow, put, removeById, rowById, type OpenChange } from "./put.ts"

const Entries = z.array(
  z.object({
    id: z.int(),
    entity: z.string(),
    entity_id: z.string(),
    before: z.string().nullable(),
    /** What the act left the row as, where a later act changed it again. */
    left: z.string().nullable(),
    /** The latest act after this one that changed the row again. */
    later: z.string().nullable(),
  }),
)

/** An act's entries, newest first, each with the latest act that changed its row again. */
function entriesOf(db: Database, batch: string) {
  return Entries.parse(
    db
      .prepare(
        `SELECT id, entity, entity_id, before, coalesce(after, (
           SELECT next.before FROM change AS next
           WHERE next.entity_id = change.entity_id AND next.id > change.id ORDER BY next.id LIMIT 1
         )) AS left, (
           SELECT later.batch FROM change AS later
           WHERE later.entity_id = change.entity_id AND later.id > change.id AND later.batch <> change.batch
           ORDER BY later.id DESC LIMIT 1
         ) AS later
         FROM change WHERE batch = ? ORDER BY id DESC`,
      )
      .all(batch),
  )
}

/**
 * Puts everything that one act changed back to what it was before, as an act of its own that can be undone in turn. Returns
 * how many entries were put back. Throws a ProblemError, and changes nothing, where there was no such act, it was an import, or
 * a row stands otherwise by now than the act left it.
 */
export function undoAct(change: OpenChange, batch: string): number {
  const entries = entriesOf(change.db, batch)
  if (entries.length === 0)
    throw new ProblemError("unknown_act", `There is no act ${batch} in this logbook's history.`, { batch })
  if (entries.some(({ entity, before }) => entity === "import_batch" && before === null))
    throw new ProblemError("is_import", `${batch} is an import. Take the import back instead.`, { batch })
  const last = new Map(entries.toReversed().map((entry) => [entry.entity_id, entry]))
  const newer = [...last.values()].find((entry) => entry.later !== null && !standsAsLeft(change.db, entry))
  if (newer !== undefined)
    throw new ProblemError(
      "changed_since",
      `A ${newer.entity.replaceAll("_", " ")} of that act was changed again later. Undo the later act first: ${newer.later}`,
      { batch, entity: newer.entity, entity_id: newer.entity_id, later: newer.later },
    )
  for (const { entity, entity_id, before } of entries) {
    if (!isEntity(entity)) throw new Error(`unknown entity ${entity} in the history`)
    restore(change, entity, entity_id, before)
  }
  return entries.length
}

/** Whether a row is now what the act left: what came later was undone as well. */
function standsAsLeft(db: Database, { entity, entity_id, left }: z.infer<typeof Entries>[number]): boolean {
  if (!isEntity(entity) || left === null) return false
  return historyNow(db, entity, entity_id) === left
}

function restore<E extends Entity>(change: OpenChange, entity: E, id: string, before: string | null): void
function restore(change: OpenChange, entity: Entity, id: string, before: string | null): void {
  if (before === null) return removeById(change, entity, id)
  const now = rowById(change.db, entity, id)
  const nothing = Object.fromEntries(Object.keys(now ?? {}).map((column) => [column, null]))
  const row = entities[entity].parse({ ...nothing, ...JSON.parse(before), id, updated_at: change.at })
  put(change, entity, row)
}
