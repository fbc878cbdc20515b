import { expect, test } from "vitest"
import { conditionsFrom } from "../../../core/conditions/compute.ts"
import { stationsWith } from "../../../core/conditions/stations/stations.ts"

const place = { lat: 31.39, lon: -81.288, tide_station: null, current_station: null }
const nothing = {
  lag_high_min: null,
  lag_low_min: null,
  slack_after_high_min: null,
  slack_after_low_min: null,
}
const start = Date.UTC(2026, 5, 1, 12)

test("the stations of a place are looked for once, however many stints were fished there", () => {
  const stations = stationsWith([])
  let searches = 0
  const conditionsOf = conditionsFrom({
    ...stations,
    nearest: (...search) => {
      searches++
      return stations.nearest(...search)
    },
  })
  // A spot comes as the row of its stint, with columns of which each stint has its own.
  for (let i = 0; i < 50; i++) {
    const start_at = start + i * 3_600_000
    const spot = { ...place, ...nothing, id: `stint ${i}`, start_at, basis: `[${start_at}]` }
    expect(conditionsOf({ start_at, end_at: null, zone: "UTC", spot })?.tide_station).toBe("8675622")
  }
  expect(searches).toBe(2) // of a tide and of a current
})

test("two spots at one place differ by what was said of them", () => {
  const conditionsOf = conditionsFrom(stationsWith([]))
  const heightAt = (said: object) =>
    conditionsOf({ start_at: start, end_at: null, zone: "UTC", spot: { ...place, ...nothing, ...said } })
      ?.tide_height_m
  const heights = [{}, { lag_high_min: 20 }, { lag_low_min: 20 }, { tide_station: "8670870" }].map(heightAt)
  expect(new Set(heights).size).toBe(4)
})

test("the middle of a stint counts, its start where it has no end, and nothing where it has no time", () => {
  const conditionsOf = conditionsFrom(stationsWith([]))
  const told = (start_at: number | null, end_at: number | null) =>
    conditionsOf({ start_at, end_at, zone: "UTC", spot: { ...place, ...nothing } })
  expect(told(start, start + 3_600_000)).toEqual(told(start + 1_800_000, null))
  expect(told(start, null)?.hour_local).toBe(12)
  expect(told(null, null)).toBeNull()
})
