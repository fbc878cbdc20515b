import fc from "fast-check"
import { expect, test } from "vitest"
import { z } from "zod"
import { entities } from "../../../shared/entities.ts"
import { add, put, removeById, rowById } from "../../../core/store/put.ts"
import { temporaryLogbook } from "./temporaryLogbook.ts"

/** A row as the history tells it, which leaves out what is unknown and what its own columns say. */
const fromHistory = (json: string | null): Record<string, unknown> => ({
  code: null,
  notes: null,
  deleted_at: null,
  id: undefined,
  updated_at: undefined,
  ...z.record(z.string(), z.unknown()).parse(JSON.parse(json ?? "{}")),
})

const Changes = z.array(
  z.object({
    batch: z.string(),
    entity: z.string(),
    entity_id: z.string(),
    before: z.string().nullable(),
    after: z.string().nullable(),
  }),
)

test("every write keeps what was there before, and the history alone leads back to it", () => {
  const step = fc.record({
    act: fc.constantFrom("add", "rename", "delete"),
    which: fc.nat(20),
    name: fc.string({ minLength: 1 }),
  })
  fc.assert(
    fc.property(fc.array(step, { maxLength: 30 }), (steps) => {
      const book = temporaryLogbook()
      const model = new Map<string, { name: string; deleted: boolean }>()
      const made = new Map<string, string>()
      for (const [i, { act, which, name }] of steps.entries()) {
        const id = [...model.keys()][which % Math.max(1, model.size)]
        const unique = `${name} ${i}`
        book.change((change) => {
          if (act === "add" || id === undefined) {
            const fresh = add(change, "angler", { name: unique })
            model.set(fresh, { name: unique, deleted: false })
            made.set(fresh, unique)
            return
          }
          const row = rowById(book.db, "angler", id)
          if (row === null) throw new Error("a row was lost")
          if (act === "delete") removeById(change, "angler", id)
          else put(change, "angler", { ...row, name: unique })
          model.set(id, {
            name: act === "delete" ? row.name : unique,
            deleted: row.deleted_at !== null || act === "delete",
          })
        })
      }
      for (const [id, { name, deleted }] of model) {
        const row = rowById(book.db, "angler", id)
        expect([row?.name, row?.deleted_at !== null]).toEqual([name, deleted])
      }
      const changes = Changes.parse(book.db.prepare("SELECT * FROM change ORDER BY id DESC").all())
      const firsts = new Map<string, string | undefined>()
      const back = new Map([...model.keys()].map((id) => [id, rowById(book.db, "angler", id)]))
      for (const { entity_id, before, after } of changes) {
        const row = back.get(entity_id)
        if (before === null) {
          firsts.set(entity_id, row?.name)
          back.delete(entity_id)
          continue
        }
        expect(fromHistory(after)).toEqual({ ...row, id: undefined, updated_at: undefined })
        const angler = entities.angler.parse({ ...row, ...fromHistory(before), id: entity_id, updated_at: 0 })
        back.set(entity_id, angler)
      }
      expect(back.size).toBe(0)
      expect(firsts).toEqual(made)
    }),
    { numRuns: 20, seed: 3 },
  )
})

test("a change that fails leaves neither rows nor history", () => {
  const book = temporaryLogbook()
  expect(() =>
    book.change((change) => {
      add(change, "angler", { name: "Ada" })
      throw new Error("changed my mind")
    }),
  ).toThrow("changed my mind")
  expect(
    book.db.prepare("SELECT (SELECT count(*) FROM angler) + (SELECT count(*) FROM change)").pluck().get(),
  ).toBe(0)
})

test("the version grows with every change, by this connection or another", () => {
  const book = temporaryLogbook()
  const first = book.version()
  expect(book.version()).toBe(first)
  book.change((change) => add(change, "angler", { name: "Ada" }))
  expect(book.version()).toBeGreaterThan(first)
})

test("what the tables do not allow is refused", () => {
  const book = temporaryLogbook()
  expect(() => book.change((change) => add(change, "rig", { head_weight_g: -1 }))).toThrow(
    /CHECK constraint failed/,
  )
  expect(() =>
    book.change((change) =>
      add(change, "stop", { ordinal: 0, trip_id: "0190b0a0-0000-7000-8000-000000000000" }),
    ),
  ).toThrow(/FOREIGN KEY/)
})
