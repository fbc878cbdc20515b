import { expect, test } from "vitest"
import { clockIn, dayLong } from "../../../renderer/charts/clock.ts"

const hour = 3_600_000

test("the hours of a day on which clocks go forward leave one out, and of one on which they go back have one twice", () => {
  // United States: from 2:00 to 3:00 on the second Sunday of March, back on the first of November. Energy Policy Act of
  // 2005, section 110 (from memory); 2026: 8 March and 1 November.
  const { hours } = clockIn("America/New_York")
  const spring = Date.UTC(2026, 2, 8, 5)
  expect(hours(spring, spring + 4 * hour).map((one) => one.hour)).toEqual([0, 1, 3, 4, 5])
  const fall = Date.UTC(2026, 10, 1, 4)
  expect(hours(fall, fall + 4 * hour).map((one) => one.hour)).toEqual([0, 1, 1, 2, 3])
})

test("whole hours are those of the zone, where its offset has half and quarter hours too", () => {
  // IANA time zone database: Asia/Kolkata is 5:30 ahead of UTC, Asia/Kathmandu 5:45 (from memory).
  const from = Date.UTC(2026, 0, 1, 0)
  expect(clockIn("Asia/Kolkata").hours(from, from + hour)).toEqual([{ at: from + 0.5 * hour, hour: 6 }])
  expect(clockIn("Asia/Kathmandu").hours(from, from + hour)).toEqual([{ at: from + 0.25 * hour, hour: 6 }])
})

test("an instant is told by the nearest minute of the zone's clock", () => {
  const { time } = clockIn("America/New_York")
  expect(time(Date.UTC(2026, 6, 1, 14, 59, 50))).toMatch(/^11:00(\sAM)?$/)
  expect(time(Date.UTC(2026, 6, 1, 14, 59, 20))).toMatch(/^10:59(\sAM)?$/)
})

test("a date has its own weekday, whatever the zone of this computer", () => {
  // Both weekdays follow from 2026-01-01 being a Thursday (ISO 8601 calendar).
  expect(dayLong("2026-01-01")).toMatch(/^Thursday/)
  expect(dayLong("2026-10-17")).toMatch(/^Saturday/)
})
