// Effort and completeness in cases/conditions/11-creel.json; its rates are in clusterRate.test.ts.
import { expect, test } from "vitest"
import { z } from "zod"
import { add } from "../../core/store/put.ts"
import { compared } from "../unit/questions/compared.ts"
import { temporaryLogbook } from "../unit/store/temporaryLogbook.ts"
import { caseSchema, numbers, readCaseFile } from "./case.ts"

const creel = z
  .array(z.looseObject({ id: z.string() }))
  .parse(JSON.parse(readCaseFile("conditions/11-creel.json")))
const creelCase = (id: string): unknown => creel.find((entry) => entry.id === id)

const effort = z.object({
  inputs: z.object({
    stints: z.array(
      z.object({
        start: z.iso.datetime({ offset: true }),
        end: z.iso.datetime({ offset: true }),
        rods: z.number(),
        break_min: z.number(),
      }),
    ),
  }),
  expected: z.object({ rod_hours: z.array(z.number()) }),
  tolerance: z.object({ hours: z.number() }),
})

test("rod-hours leave breaks out, count each rod and go by instants across changes of the clock", () => {
  const { inputs, expected, tolerance } = effort.parse(creelCase("creel-rod-hours"))
  const book = temporaryLogbook()
  book.change((change) => {
    const trip_id = add(change, "trip", {
      counted_misses: 0,
      counted_losses: 0,
      counted_follows: 0,
      counted_hang_ups: 0,
      counted_landed: 1,
      date: "2026-05-15",
      zone: "America/New_York",
      completeness: "complete",
      status: "closed",
      grouping: "said",
    })
    const stop_id = add(change, "stop", { trip_id, ordinal: 0 })
    for (const [ordinal, { start, end, rods, break_min }] of inputs.stints.entries())
      add(change, "stint", {
        stop_id,
        ordinal,
        rods,
        start_at: Date.parse(start),
        end_at: Date.parse(end),
        break_minutes: break_min,
      })
  })
  const got = z
    .array(z.object({ rod_hours: z.number() }))
    .parse(book.db.prepare("SELECT rod_hours FROM stint_fact ORDER BY stint_ordinal").all())
  expect(got).toHaveLength(expected.rod_hours.length)
  for (const [at, { rod_hours }] of got.entries())
    expect(Math.abs(rod_hours - (expected.rod_hours[at] ?? NaN))).toBeLessThanOrEqual(tolerance.hours)
})

test("anglers met while still fishing are in no rate; it is that of the complete trips beside them", () => {
  const interviews = caseSchema(
    z.object({ catch_so_far: numbers, hours_so_far: numbers }),
    z.unknown(),
  ).parse(creelCase("creel-incomplete")).inputs
  const complete = caseSchema(
    z.object({ catch: numbers, hours: numbers }),
    z.object({ ratio_of_means: z.number() }),
  ).parse(creelCase("creel-ten-anglers"))
  const factors = { lure_class: "jig" }
  const stints = [
    ...[...interviews.catch_so_far].map((fish, i) => ({
      trip: `running ${i}`,
      fish,
      hours: interviews.hours_so_far[i] ?? null,
      complete: false,
      factors,
    })),
    ...[...complete.inputs.catch].map((fish, i) => ({
      trip: `done ${i}`,
      fish,
      hours: complete.inputs.hours[i] ?? null,
      factors,
    })),
  ]
  const answer = compared(stints, { outcome: "landed_rate", by: "lure_class" })
  expect(answer.data.left_out).toEqual([
    { reason: "trip_not_complete", stints: interviews.catch_so_far.length },
  ])
  // A quotient of whole numbers: only rounding is left.
  expect(answer.levels[0]?.raw.estimate).toBeCloseTo(complete.expected.ratio_of_means, 12)
})
