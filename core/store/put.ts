import type { Database, Statement } from "better-sqlite3"
import { newId } from "./ids.ts"
import { columnsOf, entities, type Draft, type Entity, type Row } from "../../shared/entities.ts"

/** A change under way: everything put into it is stored, and can be undone, together. */
export type OpenChange = {
  readonly db: Database
  /** Identifies the act in the `change` table. */
  readonly batch: string
  readonly at: number
  readonly statements: PutStatements
}

type Writer = { readonly columns: readonly string[]; readonly upsert: Statement; readonly select: Statement }
type PutStatements = { readonly writers: Map<Entity, Writer>; readonly record: Statement }

/** Starts a change; `store/logbook.ts` runs it inside one transaction. */
export function beginChange(db: Database): OpenChange {
  const record = db.prepare(
    "INSERT INTO change (at, batch, entity, entity_id, before, after) VALUES (?, ?, ?, ?, ?, ?)",
  )
  return { db, batch: newId(), at: Date.now(), statements: { writers: new Map(), record } }
}

/**
 * The only way a row changes: it is written, and recorded for undo, inside the caller's transaction. `updated_at` is
 * the change's own. Returns the row as stored.
 */
export function put<E extends Entity>(change: OpenChange, entity: E, row: Row<E>): Row<E> {
  return write(change, entity, stored(change, entity, row.id), { ...row, updated_at: change.at })
}

/** Puts a row that is new, what is left out being unknown, and returns the id it was given. */
export function add<E extends Entity>(change: OpenChange, entity: E, draft: Draft<E>): string
export function add(change: OpenChange, entity: Entity, draft: object): string {
  const stamp = { id: newId(), created_at: change.at, updated_at: change.at, deleted_at: null }
  return write(change, entity, null, { ...draft, ...stamp }).id
}

/** A row by its id, deleted or not; null where there is none. */
export function rowById<E extends Entity>(db: Database, entity: E, id: string): Row<E> | null
export function rowById(db: Database, entity: Entity, id: string): object | null {
  const row = selectOf(db, entity).get(id)
  return row === undefined ? null : entities[entity].parse(row)
}

const selects = new WeakMap<Database, Map<Entity, Statement>>()

/** The statement that reads one row by its id, made once a connection: making it takes far longer than running it. */
function selectOf(db: Database, entity: Entity): Statement {
  const known = selects.get(db) ?? new Map<Entity, Statement>()
  selects.set(db, known)
  const found = known.get(entity) ?? db.prepare(selectSql(entity))
  known.set(entity, found)
  return found
}

/** Marks a row as deleted; it stays in the file and in the history. Throws when there is no such row (our bug). */
export function removeById(change: OpenChange, entity: Entity, id: string): void {
  const before = stored(change, entity, id)
  if (before === null) throw new Error(`no ${entity} ${id}`)
  write(change, entity, before, { ...before, id, updated_at: change.at, deleted_at: change.at })
}

const isCells = (row: unknown): row is Cells => typeof row === "object" && row !== null

function stored(change: OpenChange, entity: Entity, id: string): Cells | null {
  const row = writerFor(change, entity).select.get(id)
  return isCells(row) ? row : null
}

type Cells = Readonly<Record<string, unknown>>

function write<R extends { id: string }>(
  change: OpenChange,
  entity: Entity,
  before: Cells | null,
  row: R,
): R {
  const { columns, upsert } = writerFor(change, entity)
  const cells: Cells = row
  upsert.run(columns.map((column) => cells[column] ?? null))
  const [was, is] = before === null ? [null, null] : [historyOf(columns, before), historyOf(columns, cells)]
  change.statements.record.run(change.at, change.batch, entity, row.id, was, is)
  return row
}

/** A row as the history would keep it now; null where there is none. */
export function historyNow(db: Database, entity: Entity, id: string): string | null {
  const row = selectOf(db, entity).get(id)
  return isCells(row) ? historyOf(columnsOf(entity), row) : null
}

/** What the history's own columns say already. */
const saidBeside: ReadonlySet<string> = new Set(["id", "updated_at"])

/** A row as the history keeps it: JSON by column, without what is unknown or said beside it. */
function historyOf(columns: readonly string[], cells: Cells): string {
  const known: Record<string, unknown> = {}
  for (const column of columns)
    if (cells[column] !== null && !saidBeside.has(column)) known[column] = cells[column]
  return JSON.stringify(known)
}

function writerFor({ db, statements }: OpenChange, entity: Entity): Writer {
  const known = statements.writers.get(entity)
  if (known) return known
  const columns = columnsOf(entity)
  const writer = {
    columns,
    upsert: db.prepare(upsertSql(entity, columns)),
    select: selectOf(db, entity),
  }
  statements.writers.set(entity, writer)
  return writer
}

const selectSql = (entity: Entity): string =>
  `SELECT ${columnsOf(entity).join(", ")} FROM ${entity} WHERE id = ?`

/** The one generated statement: every SELECT of more than a row by its id is written by hand. */
function upsertSql(entity: Entity, columns: readonly string[]): string {
  const updates = columns
    .filter((column) => column !== "id")
    .map((column) => `${column} = excluded.${column}`)
  return `INSERT INTO ${entity} (${columns.join(", ")}) VALUES (${columns.map(() => "?").join(", ")})
          ON CONFLICT (id) DO UPDATE SET ${updates.join(", ")}`
}
