// The raw intervals on 200 sample logbooks (three seasons each) for levels that nothing staged touches. The band: a 95%
// interval must hold the long-run truth in 90 to 98% of them, give or take two Monte Carlo errors. One level alone has an
// error of 1.5 points at 95% and 1 at 98%, so that the upper end is asked of a question's levels together.
import { expect, test } from "vitest"
import { type LevelCoverage, sampleCoverage } from "./sample.ts"

const logbooks = 200
const coverage = sampleCoverage(logbooks)
const [low, high] = [0.9, 0.98]
const monteCarloError = (part: number, asked: number) => Math.sqrt((part * (1 - part)) / asked)

/**
 * Known to err wide: nine in ten of the spoon's strikes lie in the one red-letter day, so that its design effect (some 10)
 * and its few degrees of freedom tell of trips that hardly count, though every strike is hooked on its own chance.
 */
const wide = ({ question, level }: LevelCoverage): boolean => question.includes("_share") && level === "spoon"

const asPromised = coverage.filter((row) => !wide(row))
const questions = [...Map.groupBy(asPromised, ({ question }) => question)]

test.each(questions)("raw intervals hold the truth as often as they say: %s", (_, levels) => {
  const asked = levels.length * logbooks
  const covered = levels.reduce((sum, level) => sum + level.covered, 0) / levels.length
  const figures = levels.map(({ level, covered: part }) => `${level} ${part}`).join(", ")
  expect(covered, figures).toBeGreaterThan(low - 2 * monteCarloError(low, asked))
  expect(covered, figures).toBeLessThan(high + 2 * monteCarloError(high, asked))
  for (const level of levels) {
    expect(level.logbooks, level.level).toBe(logbooks)
    expect(level.covered, level.level).toBeGreaterThan(low - 2 * monteCarloError(low, logbooks))
  }
})

test("where an interval misses the band it errs wide", () => {
  const found = coverage.filter(wide)
  expect(found).toHaveLength(2)
  for (const { covered } of found) expect(covered).toBeGreaterThan(0.95)
})

test("every kind of outcome was asked about, at 30 levels in all", () => {
  const outcomes = new Set(coverage.map(({ question }) => question.split(" ")[0]))
  expect(outcomes).toEqual(
    new Set(["hang_up_rate", "hook_up_share", "landed_rate", "landing_share", "strike_rate"]),
  )
  expect(coverage.length).toBe(30)
})
