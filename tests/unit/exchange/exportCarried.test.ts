import { expect, test } from "vitest"
import { stintsTable } from "../../../core/exchange/write/tables.ts"

test.each([
  ["seen", 21.5],
  ["instrument", 21.5],
  ["imported", 21.5],
  ["carried from 42 min before", null],
  ["between readings 42 min before and 65 min after", null],
])(
  "a temperature that was %s is exported as %s: what was carried by time would freeze as read then",
  (source, told) => {
    const row = { trip_id: "1", trip_zone: "UTC", water_temp_c: 21.5, water_temp_c_source: source }
    const { head, rows } = stintsTable([row], false)
    expect(rows[0]?.[head.indexOf("water_temp_c")]).toBe(told)
  },
)
