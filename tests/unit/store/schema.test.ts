import type { Database } from "better-sqlite3"
import { expect, test } from "vitest"
import { z } from "zod"
import { columnsOf, entities, isEntity } from "../../../shared/entities.ts"
import { factorIds, factorOf, hasSource } from "../../../shared/factors.ts"
import { temporaryLogbook } from "./temporaryLogbook.ts"

const Columns = z.array(z.object({ name: z.string(), notnull: z.int() }))
const columns = (db: Database, table: string) => Columns.parse(db.pragma(`table_info(${table})`))

test.each(Object.keys(entities))(
  "the table %s has the columns of its entity, unknown allowed in the same ones",
  (name) => {
    const { db } = temporaryLogbook()
    if (!isEntity(name)) throw new Error(name)
    const stored = columns(db, name)
    expect(stored.map((column) => column.name)).toEqual(columnsOf(name))
    const shape: Record<string, z.ZodType> = entities[name].shape
    for (const { name: column, notnull } of stored)
      expect([column, shape[column]?.safeParse(null).success]).toEqual([column, notnull === 0])
  },
)

test("every table is strict and has a text key", () => {
  const { db } = temporaryLogbook()
  const Tables = z.array(
    z.object({ name: z.string(), strict: z.int(), type: z.string(), schema: z.string() }),
  )
  const tables = Tables.parse(db.pragma("table_list")).filter(
    ({ type, name, schema }) => type === "table" && schema === "main" && !name.startsWith("sqlite_"),
  )
  expect(tables.length).toBe(Object.keys(entities).length + 4)
  expect(tables.filter(({ strict }) => strict === 0)).toEqual([])
})

test("the view has a column for every factor, and its source where that can differ", () => {
  const { db } = temporaryLogbook()
  const view = columns(db, "stint_fact").map((column) => column.name)
  for (const id of factorIds) {
    expect(view).toContain(id)
    expect([id, view.includes(`${id}_source`)]).toEqual([id, hasSource(id)])
  }
  const known = new Set<string>([...factorIds, ...factorIds.map((id) => `${id}_source`)])
  const others = view.filter((name) => !known.has(name))
  expect(others).toEqual([
    "stint_id",
    "stop_id",
    "trip_id",
    "trip_label",
    "trip_date",
    "trip_zone",
    "completeness",
    "status",
    "grouping",
    "purpose",
    "target_species_id",
    "stop_ordinal",
    "stop_label",
    "stint_ordinal",
    "start_at",
    "end_at",
    "effort_minutes",
    "effort_source",
    "share_group",
    "why_changed",
    "recorded",
    "notes",
    "same_stop_id",
    "rod_hours",
    "strikes",
    "hook_ups",
    "landed",
    "follows",
    "hang_ups",
    "lures_lost",
  ])
})

test("fixed words of the catalogue are the words the tables accept", () => {
  const { db } = temporaryLogbook()
  const tableOf: Partial<Record<string, string>> = {
    lure: "lure",
    rig: "rig",
    cadence: "stint",
    stint: "stint",
    stop: "stop",
    observation: "observation",
    computed: "computed",
  }
  const Sql = z.object({ sql: z.string() })
  for (const id of factorIds) {
    const factor = factorOf(id)
    if (factor.kind !== "categorical" || factor.levels === null) continue
    const { sql } = Sql.parse(
      db.prepare("SELECT sql FROM sqlite_master WHERE name = ?").get(tableOf[factor.home]),
    )
    const check = new RegExp(`${id} IN \\(([^)]*)\\)`).exec(sql)?.[1]
    expect([id, check?.split(", ")]).toEqual([id, factor.levels.map((level) => `'${level}'`)])
  }
})
