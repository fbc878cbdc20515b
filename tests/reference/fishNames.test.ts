// The sample's species against cases/conditions/10-fish.json: common names of American Fisheries Society Special Publication 34
// (7th edition, 2013) and the length usually measured, from memory. Ladyfish (Elops saurus) is not among the cases.
// Left out: weights from lengths, which the product does not estimate, and definitions of lengths, which it does not print.
import { expect, test } from "vitest"
import { z } from "zod"
import { allSpecies } from "../../core/demo/scenario.ts"
import { readCaseFile } from "./case.ts"

const names = z
  .array(z.looseObject({ id: z.string() }))
  .parse(JSON.parse(readCaseFile("conditions/10-fish.json")))
  .find(({ id }) => id === "fish-names")
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
