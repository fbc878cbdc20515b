// A small part of npm run simulate: made-up logbooks with known truth through the whole product, from facts to answer.
import { expect, test } from "vitest"
import { stream } from "../../core/stats/random.ts"
import { KINDS } from "./recovery/kinds.ts"
import { misses } from "./recovery/recovery.ts"
import { tallyWorld } from "./recovery/tally.ts"

const seed = 20_261_128
const logbooks = 20
const some = [
  "nothing differs",
  "days far apart, fish in clumps",
  "a lure a trip",
  "thrown at first light",
  "the better angler's favourite",
  "one red-letter day",
  "the first gives 1.6 times as much",
]
const kinds = KINDS.filter(({ name }) => some.includes(name)).map(({ name, aim, world }) => ({
  name,
  aim,
  tallies: tallyWorld(stream(seed, name), world, logbooks),
}))

test.each(kinds)("$name: the headline keeps to its aim, give or take chance", ({ aim, tallies }) => {
  expect(misses(aim, tallies.headline)).toBe(false)
  expect(tallies.headline.answered).toBeGreaterThan(2.5 * logbooks)
})

test.each(kinds.filter(({ aim }) => aim === "misled"))(
  "$name: a pivot table is misled, far beyond chance",
  ({ aim, tallies }) => {
    const { answered, covered } = tallies["pivot table"]
    expect(covered / answered).toBeLessThan(0.75)
    expect(misses(aim, tallies["pivot table"])).toBe(true)
  },
)

test("what is planted is found by most logbooks, and no kind is left out by a slip of its name", () => {
  expect(kinds).toHaveLength(some.length)
  const planted = kinds.find(({ aim }) => aim === "planted")
  // two contrasts of three differ; by R's own fits three of four of those are found in 60 trips
  expect((planted?.tallies.adjusted.found ?? 0) / (2 * logbooks)).toBeGreaterThan(0.5)
})
