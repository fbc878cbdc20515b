// Sixty made-up logbooks in which longer pauses pay in cold water and cost in warm, asked whether what the pause does depends on water
// temperature, beside R's own test of the model they were drawn from (depends/depends.R: glmmTMB, likelihood ratio).
import { expect, test } from "vitest"
import { dependsByR, pauseByWater } from "./depends/depends.ts"
import { pauseLogbooks } from "./depends/logbooks.ts"
import { fingerprint } from "./power/logbooks.ts"
import { worldTable } from "./worldTable.ts"

const byR = dependsByR()
const logbooks = pauseLogbooks()
const some = 24

test("R read the same logbooks", () => {
  expect(fingerprint(worldTable(logbooks))).toBe(byR.sha256)
})

test("what is planted is found by nearly as many logbooks as by R's own fit, and about as surely", () => {
  const pairs = logbooks.slice(0, some).map((stints, i) => ({
    ours: pauseByWater(stints) ?? 1,
    theirs: byR.logbooks[i]?.p ?? Number.NaN,
  }))
  const found = (p: number): number => Number(p <= 0.05)
  const [ours, theirs] = [
    pairs.reduce((sum, pair) => sum + found(pair.ours), 0),
    pairs.reduce((sum, pair) => sum + found(pair.theirs), 0),
  ]
  // R is told which terms there are; the product spends columns on season, spot and order in the stop to find out, and reads F.
  expect(ours).toBeGreaterThanOrEqual(0.85 * theirs)
  // The same evidence on a log scale: on average within a factor of four of R's p, which spreads over ten powers of ten.
  const apart = pairs.map(({ ours: own, theirs: other }) => Math.log10(own) - Math.log10(other))
  expect(Math.abs(apart.reduce((sum, value) => sum + value, 0) / some)).toBeLessThan(Math.log10(4))
})
