import { median } from "simple-statistics"
import { conditionsFrom, type WhenAndWhere } from "../../core/conditions/compute.ts"
import type { SpotWater } from "../../core/conditions/spotWater.ts"
import { stationsWith } from "../../core/conditions/stations/stations.ts"
import { harmonicTide } from "../../core/conditions/tide/tideCurve.ts"
import { stationFile, type ListedStation } from "../../core/conditions/stations/stationFile.ts"
import { secondTide } from "../reference/secondTide.ts"
import { drawStations } from "../unit/conditions/shippedStations.ts"

const day = 86_400_000
const year = [Date.UTC(2025, 0, 1), Date.UTC(2026, 0, 1)] as const
const places = 20
const stintsTold = 100_000
/** The library is asked for so many of them, and its time scaled. */
const askedOfLibrary = 2000

/**
 * Prints how long tides and the conditions of stints take beside another program's prediction of the same tide
 * (@neaps/tide-predictor) in the same run.
 */
export function benchConditions(): void {
  const byConstants = drawStations({ kind: "tide", by: "constants" }, places, 2026)
  const byOffsets = drawStations({ kind: "tide", by: "offsets" }, places, 2026)
  console.log("\nTides and conditions beside @neaps/tide-predictor in the same run")
  yearOfWaters(byConstants[0]?.id ?? "")
  // Of the stations that ship a third has constants of its own; the others follow one of these by offsets.
  conditionsOfStints("a third by constants", [...byConstants.slice(0, 7), ...byOffsets.slice(0, 13)])
  conditionsOfStints("all by constants", byConstants)
  searchForStations()
}

function yearOfWaters(id: string): void {
  const [start, end] = year
  const second = secondTide(id)
  const own = median(times(9, () => curveAnew(id).watersAround(start)))
  const library = median(times(9, () => second.waters(start, end)))
  console.log(
    `  a year's high and low waters: ${(own * 1000).toFixed(1)} ms, library ${(library * 1000).toFixed(1)} ms; ` +
      `${(library / own).toFixed(1)} times faster`,
  )
}

/** A station's curve of which no year is known yet. */
function curveAnew(id: string) {
  const line = stationFile().read(id)
  if (line?.kind !== "tide" || !("constants" in line)) throw new Error(`${id} has no constants`)
  const constants = line.constants.map(([name, amplitude, phase_deg]) => ({ name, amplitude, phase_deg }))
  return harmonicTide(constants, line.mean_m, line.great_diurnal_range_m)
}

/**
 * Light, sun, moon, tide, current and clock of stints of ten years at 20 places, against the library's height alone: once
 * while no year's waters are known yet, and once when they are.
 */
function conditionsOfStints(which: string, stations: readonly ListedStation[]): void {
  const stints = Array.from({ length: stintsTold }, (_, i): WhenAndWhere => {
    const start_at = Date.UTC(2016, 0, 1) + Math.floor(i * 0.0365 * day)
    const spot = spotAt(stations[i % places])
    return { start_at, end_at: start_at + 30 * 60_000, zone: "America/New_York", spot }
  })
  const [first = 0, again = 0] = times(2, () => {
    const conditionsOf = conditionsFrom(stationsWith([]))
    for (const stint of stints) conditionsOf(stint)
  })
  const libraries = stations.map(({ id }) => secondTide(id))
  const asked = stints.slice(0, askedOfLibrary)
  const [sample = 0] = times(1, () => {
    for (const [i, { start_at }] of asked.entries())
      libraries[i % places]?.heightAt((start_at ?? 0) + 15 * 60_000)
  })
  const library = (sample * stintsTold) / askedOfLibrary
  const each = (time: number) => `${((time * 1e6) / stintsTold).toFixed(1)} us`
  console.log(
    `  conditions of ${stintsTold} stints at ${places} stations, ${which}: ${each(first)} a stint, ${each(again)} again; ` +
      `library ${each(library)}; ${(library / first).toFixed(1)} and ${(library / again).toFixed(1)} times faster`,
  )
}

function searchForStations(): void {
  const stations = stationsWith([])
  const searches = 200
  const took = times(5, () => {
    for (let i = 0; i < searches; i++) stations.nearest("tide", { lat: 25 + i / 20, lon: -81 }, 5)
  })
  console.log(
    `  the five nearest of ${stationFile().list.length} stations: ${((median(took) * 1000) / searches).toFixed(2)} ms a search`,
  )
}

/** A spot at a station's own place, for which the nearest stations are taken. */
const spotAt = (station: ListedStation | undefined): SpotWater => ({
  lat: station?.lat ?? null,
  lon: station?.lon ?? null,
  tide_station: null,
  current_station: null,
  lag_high_min: null,
  lag_low_min: null,
  slack_after_high_min: null,
  slack_after_low_min: null,
})

/** Seconds of each of some runs. */
const times = (runs: number, act: () => unknown): number[] =>
  Array.from({ length: runs }, () => {
    const start = performance.now()
    act()
    return (performance.now() - start) / 1000
  })
