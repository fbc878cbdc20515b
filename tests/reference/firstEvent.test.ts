// Cases in cases/stats, computed with R 4.2.2 from formulas written out; sources, data and tolerances are in the files.
import { expect, test } from "vitest"
import { z } from "zod"
import { fitGlm } from "../../core/stats/glm/fitGlm.ts"
import { fromColumns } from "../../core/stats/matrix/matrix.ts"
import { personPeriods } from "../../core/stats/personPeriod.ts"
import { Differences, loadCase, number, numbers } from "./case.ts"
import { numericColumn, readTable, textColumn } from "./modelCase.ts"

test("the hazard of a first event is a complementary log-log model of its intervals, as in R", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/17-first-strike.json",
    z.object({ data: z.string(), interval_minutes: number }),
    z.object({
      rows: number,
      events: number,
      rod_hours_at_risk: number,
      coefficients: numbers,
      log_likelihood: number,
    }),
  )
  const table = readTable(inputs.data)
  const first = textColumn(table, "first_strike_min").map((cell) => (cell === "" ? NaN : Number(cell)))
  const periods = personPeriods(
    {
      duration: numericColumn(table, "minutes"),
      firstEvent: Float64Array.from(first),
      units: numericColumn(table, "rods"),
    },
    inputs.interval_minutes,
  )
  const lure = textColumn(table, "lure")
  const indicator = (name: string) => Float64Array.from(periods.spell, (i) => (lure[i] === name ? 1 : 0))
  const later = periods.begins.map((begins) => (begins >= inputs.interval_minutes ? 1 : 0))
  const hours = periods.exposure.map((minutes) => minutes / 60)
  const fit = fitGlm(
    {
      x: fromColumns(
        [new Float64Array(hours.length).fill(1), indicator("cork"), indicator("spoon"), later],
        hours.length,
      ),
      y: periods.event,
      offset: hours.map(Math.log),
    },
    "binomial cloglog",
  )
  if (fit.kind !== "fit") throw new Error("The model was not fitted.")
  const found = new Differences(tolerance)
  found.add("rows", hours.length, expected.rows)
  found.add(
    "events",
    periods.event.reduce((sum, event) => sum + event, 0),
    expected.events,
  )
  found.add(
    "exposure",
    hours.reduce((sum, h) => sum + h, 0),
    expected.rod_hours_at_risk,
  )
  found.add("log-likelihood", fit.logLik, expected.log_likelihood)
  expected.coefficients.forEach((value, j) => found.add(`coefficient ${j}`, fit.coefficients[j], value))
  expect(found.sentences).toEqual([])
})
