import type { Database, Statement } from "better-sqlite3"
import { v7 as uuidv7 } from "uuid"
import { columnsOf, entities, type Draft, type Entity, type Row } from "../../shared/entities.ts"

/** A change under way: everything put into it is stored, and can be undone, together. */
export type OpenChange = {
  readonly db: Database
  /** Identifies the act in the `change` table. */
  readonly batch: string
  readonly at: number
  readonly statements: PutStatements
}

type PutStatements = {
  readonly upsert: Map<Entity, Statement>
  readonly select: Map<Entity, Statement>
  record: Statement | null
}

/** Starts a change; `store/logbook.ts` runs it inside one transaction. */
export function beginChange(db: Database, batch: string = uuidv7()): OpenChange {
  return { db, batch, at: Date.now(), statements: { upsert: new Map(), select: new Map(), record: null } }
}

/**
 * The only way a row changes: it is written, and recorded for undo, inside the caller's transaction. `updated_at` is
 * the change's own. Returns the row as stored.
 */
export function put<E extends Entity>(change: OpenChange, entity: E, row: Row<E>): Row<E> {
  const before = statementFor(change.statements.select, entity, () => selectStatement(change.db, entity)).get(
    row.id,
  )
  return write(change, entity, before ?? null, { ...row, updated_at: change.at })
}

/** Puts a row that is new: gives it an id and its times. */
export function add<E extends Entity>(change: OpenChange, entity: E, draft: Draft<E>): Row<E>
export function add(change: OpenChange, entity: Entity, draft: object): object {
  const stamp = { id: uuidv7(), created_at: change.at, updated_at: change.at, deleted_at: null }
  return write(change, entity, null, { ...stamp, ...draft })
}

/** A row by its id, deleted or not; null where there is none. */
export function rowById<E extends Entity>(db: Database, entity: E, id: string): Row<E> | null
export function rowById(db: Database, entity: Entity, id: string): object | null {
  const row = selectStatement(db, entity).get(id)
  return row === undefined ? null : entities[entity].parse(row)
}

/** Marks a row as deleted; it stays in the file and in the history. Throws when there is no such row (our bug). */
export function removeById(change: OpenChange, entity: Entity, id: string): void {
  const before = statementFor(change.statements.select, entity, () => selectStatement(change.db, entity)).get(
    id,
  )
  if (typeof before !== "object" || before === null) throw new Error(`no ${entity} ${id}`)
  write(change, entity, before, { ...before, id, updated_at: change.at, deleted_at: change.at })
}

function write<R extends { id: string }>(change: OpenChange, entity: Entity, before: unknown, row: R): R {
  const { db, statements } = change
  statementFor(statements.upsert, entity, () => upsertStatement(db, entity)).run(row)
  statements.record ??= db.prepare(
    "INSERT INTO change (at, batch, entity, entity_id, before, after) VALUES (?, ?, ?, ?, ?, ?)",
  )
  const was = before === null ? null : JSON.stringify(before)
  statements.record.run(change.at, change.batch, entity, row.id, was, JSON.stringify(row))
  return row
}

function statementFor(known: Map<Entity, Statement>, entity: Entity, make: () => Statement): Statement {
  const found = known.get(entity)
  if (found) return found
  const made = make()
  known.set(entity, made)
  return made
}

function selectStatement(db: Database, entity: Entity): Statement {
  return db.prepare(`SELECT ${columnsOf(entity).join(", ")} FROM ${entity} WHERE id = ?`)
}

/** The one generated statement: every SELECT is written by hand. */
function upsertStatement(db: Database, entity: Entity): Statement {
  const columns = columnsOf(entity)
  const values = columns.map((column) => `@${column}`)
  const updates = columns
    .filter((column) => column !== "id")
    .map((column) => `${column} = excluded.${column}`)
  return db.prepare(
    `INSERT INTO ${entity} (${columns.join(", ")}) VALUES (${values.join(", ")})
     ON CONFLICT (id) DO UPDATE SET ${updates.join(", ")}`,
  )
}
