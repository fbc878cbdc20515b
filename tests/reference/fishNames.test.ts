// The sample's species against cases/conditions/10-fish.json: common names of American Fisheries Society Special Publication 34
// (7th edition, 2013) and the length usually measured, from memory. Ladyfish (Elops saurus) is not among the cases.
// The definitions of total and fork length are those of the same file, in other words; standard length is no type of ours.
// Left out, since they want a fish's own page, where its weight would be estimated: weights from lengths and from girth (the fit of
// such a law is checked in describe.test.ts), and that second-hand parameters are not to be shipped: none are.
import { expect, test } from "vitest"
import { z } from "zod"
import { allSpecies } from "../../core/demo/scenario.ts"
import { lengthTypeMeaning } from "../../shared/lengthTypes.ts"
import { readCaseFile } from "./case.ts"

const cases = z
  .array(z.looseObject({ id: z.string() }))
  .parse(JSON.parse(readCaseFile("conditions/10-fish.json")))
const names = cases.find(({ id }) => id === "fish-names")
const { expected } = z
  .object({
    expected: z.object({ rows: z.array(z.object({ common: z.string(), usual_length: z.string() })) }),
  })
  .parse(names)
const usualLength = new Map(expected.rows.map(({ common, usual_length }) => [common, usual_length]))

test("the sample's species have their common names, and the length usually measured", () => {
  expect(allSpecies.map(({ name }) => name).filter((name) => !usualLength.has(name))).toEqual(["ladyfish"])
  for (const { name, length_type } of allSpecies) {
    const usual = usualLength.get(name)
    if (usual === undefined) continue
    expect([name, length_type]).toEqual([name, usual.startsWith("FL") ? "fork" : "total"])
  }
})

test("a length is measured between the points of its definition", () => {
  const { expected: defined } = z
    .object({ expected: z.record(z.enum(["total_length", "fork_length", "standard_length"]), z.string()) })
    .parse(cases.find(({ id }) => id === "fish-length-definitions"))
  const points = {
    total: ["tip of the closed snout", "end of the tail", "lobes squeezed together"],
    fork: ["tip of the snout", "middle of the fork of the tail"],
  }
  for (const type of ["total", "fork"] as const)
    for (const point of points[type]) {
      expect(defined[`${type}_length`]).toContain(point)
      expect(lengthTypeMeaning[type]).toContain(point)
    }
})
