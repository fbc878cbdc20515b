import { expect, test } from "vitest"
import { readMappings } from "../../../core/exchange/read/map.ts"
import { targets } from "../../../renderer/screens/files/targets.ts"

const offered = targets
  .flatMap(({ options }) => options)
  .filter(({ id }) => id !== "")
  .map(({ id, label }) => ({ id, label, unit: /\((\w+)\)$/.exec(id)?.[1] ?? null }))
const meaningOf = (id: string) => readMappings([`Their column=${id}`])[0]?.meaning.stints

test("nothing is offered twice", () => {
  const ids = offered.map(({ id }) => id)
  expect(new Set(ids).size).toBe(ids.length)
})

test.each(offered)("a column can be read as $label", ({ id }) => {
  expect(meaningOf(id)).not.toBeUndefined()
})

test.each(offered.filter(({ unit }) => unit !== null))("in its own unit: $label", ({ id, unit }) => {
  expect(meaningOf(id)).toMatchObject({ kind: "factor", unit })
})
