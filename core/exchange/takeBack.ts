import type { Entity } from "../../shared/entities.ts"
import type { TakenBack } from "../../shared/imports.ts"
import { ProblemError } from "../../shared/problems.ts"
import { put, removeById, rowById, type OpenChange } from "../store/put.ts"
import { rowsMadeBy, standingOn } from "../store/read/imports.ts"
import { stationReadingIds } from "../store/read/stationReadings.ts"

/** Rows that make up one stint: they are taken back, or stay, together. */
const ofStint: ReadonlySet<Entity> = new Set<Entity>(["strike", "observation", "computed"])

/**
 * Takes a whole import back inside the caller's transaction. What was edited since stays, with all that it stands on,
 * and is listed; `editedToo` takes it back as well. Things the import made that other records now use stay too.
 * A
 * trip is not held by what a station's file brought for it. Throws a ProblemError when there is no such import or it was taken back before.
 */
export function takeBackImport(change: OpenChange, batch: string, editedToo: boolean): TakenBack {
  const record = rowById(change.db, "import_batch", batch)
  if (record === null)
    throw new ProblemError("unknown_batch", `There is no import ${batch} in this logbook.`, { batch })
  if (record.taken_back_at !== null)
    throw new ProblemError("unknown_batch", `The import ${batch} was taken back before.`, { batch })

  const made = rowsMadeBy(change.db, batch).filter(({ entity }) => entity !== "import_batch")
  const ours = new Map(made.map((row) => [row.id, row]))
  const ofStations = stationReadingIds(change.db)
  const links = standingOn(change.db).filter(({ child }) => ours.has(child) || !ofStations.has(child))
  const stays = new Map<string, string>()
  const edited = editedToo ? [] : made.filter((row) => row.edited)
  for (const row of edited) stays.set(row.id, "edited since the import")

  const parentsOf = Map.groupBy(links, (link) => link.child)
  const childrenOf = Map.groupBy(links, (link) => link.parent)
  for (const { child, parent } of links)
    if (!ours.has(child) && ours.has(parent)) stays.set(parent, "used by other records")
  const pending = [...stays.keys()]
  for (let id = pending.pop(); id !== undefined; id = pending.pop()) {
    const entity = ours.get(id)?.entity
    const kin = [
      ...(parentsOf.get(id) ?? []).map((link) => link.parent),
      ...(entity === "stint"
        ? (childrenOf.get(id) ?? []).filter((link) => ofStint.has(link.childEntity)).map((link) => link.child)
        : []),
    ]
    for (const other of kin)
      if (ours.has(other) && !stays.has(other)) {
        stays.set(other, "belongs to a row that stays")
        pending.push(other)
      }
  }

  const removed: Record<string, number> = {}
  for (const { entity, id } of made) {
    if (stays.has(id)) continue
    removeById(change, entity, id)
    removed[entity] = (removed[entity] ?? 0) + 1
  }
  put(change, "import_batch", { ...record, taken_back_at: change.at })
  return {
    batch,
    removed,
    stayed: [...stays].map(([id, why]) => {
      const entity = ours.get(id)?.entity ?? "stint"
      return { entity, id, what: entity.replaceAll("_", " "), why }
    }),
  }
}
