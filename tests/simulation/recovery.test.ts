// A small part of npm run simulate: made-up logbooks with known truth through the whole product, from facts to answer.
import { expect, test } from "vitest"
import { stream } from "../../core/stats/random.ts"
import { KINDS } from "./recovery/kinds.ts"
import { misses } from "./recovery/recovery.ts"
import { tallyWorld } from "./recovery/tally.ts"

const seed = 20_261_128
const logbooks = 30

test.each(KINDS.map(({ name, aim, world }) => ({ name, aim, world })))(
  "$name: the headline keeps to its aim, give or take chance",
  ({ name, aim, world }) => {
    const tallies = tallyWorld(stream(seed, name), world, logbooks)
    expect(misses(aim, tallies.headline)).toBe(false)
    expect(tallies.headline.answered).toBeGreaterThan(2 * logbooks)
  },
)

test("a pivot table is fooled by what is staged", () => {
  const fooled = KINDS.filter(({ aim }) => aim === "misled").map(({ name, world }) => {
    const { answered, covered } = tallyWorld(stream(seed, name), world, logbooks)["pivot table"]
    return covered / answered
  })
  for (const covered of fooled) expect(covered).toBeLessThan(0.8)
})
