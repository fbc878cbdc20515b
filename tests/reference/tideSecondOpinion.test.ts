// A second opinion on the tides that ship: @neaps/tide-predictor 0.11.0, other people's code (MIT), given the same constants with
// the phase of M3 turned by half a circle, where it departs from the source's convention, and Schureman's node factors, which it
// follows through the year where the source, and so this product, hold them at mid-year: that is what is left between the two.
// M1 is compared with nothing here: see `incomparable`.
// And the extract of stations against @neaps/tide-database 0.10.20260924, from which it was taken.
import { stationsById, type Station } from "@neaps/tide-database"
import { describe, expect, test } from "vitest"
import { stationFile } from "../../core/conditions/stations/stationFile.ts"
import { harmonicTide, type TideCurve } from "../../core/conditions/tide/tideCurve.ts"
import { drawStations } from "../unit/conditions/shippedStations.ts"
import { incomparable, packageStation, secondTide } from "./secondTide.ts"

const hour = 3_600_000
const day = 24 * hour

/** The form of a tide: (K1 + O1) / (M2 + S2); below 0.25 it is semidiurnal (Pugh 1987, from memory). */
function formOf({ harmonic_constituents }: Station): number {
  const of = (name: string) => harmonic_constituents.find((told) => told.name === name)?.amplitude ?? 0
  return (of("K1") + of("O1")) / (of("M2") + of("S2"))
}

const drawn = drawStations({ kind: "tide", by: "constants" }, 25, 2026)

/** Flat tides turn where a millimetre decides; the times of semidiurnal ones can be compared. */
const semidiurnal = drawn.filter(({ id }) => formOf(packageStation(id)) < 0.25)

/** The tide of a shipped station's constants but for the one that cannot be compared. */
function ownTide(id: string): TideCurve {
  const line = stationFile().read(id)
  if (line?.kind !== "tide" || !("constants" in line)) throw new Error(`no constants of ${id}`)
  const constants = line.constants
    .filter(([name]) => name !== incomparable)
    .map(([name, amplitude, phase_deg]) => ({ name, amplitude, phase_deg }))
  return harmonicTide(constants, line.mean_m, line.great_diurnal_range_m)
}

/** Five days each. At mid-year both programs use the same node factors; far from it theirs have moved on, and ours have not. */
const windows = [
  [
    "about mid-year",
    [Date.UTC(2012, 5, 30), Date.UTC(2019, 5, 30), Date.UTC(2025, 5, 30)],
    0.002,
    0.001,
    0.5,
  ],
  ["far from it", [Date.UTC(2024, 0, 10), Date.UTC(2025, 8, 1), Date.UTC(2026, 10, 20)], 0.025, 0.02, 3],
] as const

describe.each(windows)("%s", (_, starts, within_m, withinShare, within_min) => {
  test.each(drawn)("the heights of $id $name are those of the other program", ({ id }) => {
    const own = ownTide(id)
    const second = secondTide(id)
    // The node factors of half a year move a tide of several metres by up to a fiftieth of its daily range.
    const allowed = Math.max(within_m, withinShare * (own.great_diurnal_range_m ?? 0))
    for (const start of starts)
      for (let at = start; at < start + 5 * day; at += hour / 2)
        expect(Math.abs(own.heightAt(at) - second.heightAt(at))).toBeLessThan(allowed)
  })

  test.each(semidiurnal)("high and low water of $id $name come when the other program has them", ({ id }) => {
    for (const start of starts) {
      const theirs = secondTide(id).waters(start - day, start + 6 * day)
      const ours = ownTide(id)
        .watersAround(start)
        .tides.filter(({ at }) => at > start && at < start + 5 * day)
      expect(ours.length).toBeGreaterThan(10)
      for (const { kind, at } of ours) {
        const near = theirs.filter((water) => water.kind === kind).map((water) => Math.abs(water.at - at))
        expect(Math.min(...near) / 60_000).toBeLessThan(within_min)
      }
    }
  })
})

/** Digits to which the extract keeps what the package has: millimetres, thousandths of a knot, tenths of a degree. */
const close = (own: number | null | undefined, told: number | undefined, digits: number): boolean =>
  Math.abs((own ?? Number.NaN) - (told ?? Number.NaN)) <= 0.5 * 10 ** -digits + 1e-9

type Difference = string | false

describe("the stations that ship", () => {
  const lines = stationFile().list.map((listed) => ({ listed, line: stationFile().read(listed.id) }))
  const everywhere = (differs: (own: (typeof lines)[number], told: Station) => Difference): string[] =>
    lines.flatMap((own) => {
      const found = differs(own, packageStation(own.listed.id))
      return found === false ? [] : [`${own.listed.id}: ${found}`]
    })

  test("are public domain, each of them, and of the source that the header names", () => {
    expect(everywhere((_, told) => told.license.type !== "public domain" && told.license.type)).toEqual([])
    expect(everywhere((_, told) => (told.license.commercial_use ? false : "not for commerce"))).toEqual([])
    expect(stationFile().header).toMatchObject({ licence: "public domain", stations: lines.length })
    expect(stationFile().header.through).toContain("0.10.20260924")
    const others = [...stationsById.values()].filter(({ license }) => license.type !== "public domain")
    expect(others.length).toBeGreaterThan(1000) // there are some to be kept out
    expect(
      others.filter(({ id }) => stationFile().has(id.replace("noaa/", "")) && id.startsWith("noaa/")),
    ).toEqual([])
  })

  test("have the package's names and places", () => {
    expect(
      everywhere(({ listed: { name, lat, lon, kind } }, told) => {
        if (name !== told.name.trim()) return `name ${name}`
        if (kind !== told.kind) return `kind ${kind}`
        return !close(lat, told.latitude, 5) || !close(lon, told.longitude, 5)
          ? `place ${lat}, ${lon}`
          : false
      }),
    ).toEqual([])
  })

  test("have the package's constants, all of those that are not zero, and its mean levels and ranges", () => {
    expect(
      everywhere(({ line }, told) => {
        if (line === null || !("constants" in line)) return false
        const theirs = told.harmonic_constituents.filter(({ amplitude }) => amplitude !== 0)
        if (theirs.length !== line.constants.length) return `${line.constants.length} constants`
        const wrong = line.constants.find(([name, amplitude, phase]) => {
          const same = theirs.find((one) => one.name === name)
          return !close(amplitude, same?.amplitude, 4) || !close(phase, same?.phase, 1)
        })
        if (wrong !== undefined) return `constant ${wrong[0]}`
        if (line.kind === "current")
          return close(line.mean_flow_kn, told.current?.mean_flow ?? 0, 4) ? false : "mean flow"
        const { MSL = Number.NaN, MLLW = Number.NaN, GT } = told.datums
        if (!close(line.mean_m, MSL - MLLW, 3)) return "mean level"
        return line.great_diurnal_range_m !== null && !close(line.great_diurnal_range_m, GT, 3)
          ? "range"
          : false
      }),
    ).toEqual([])
  })

  test("have the package's offsets and directions, and follow stations that ship too", () => {
    expect(
      everywhere(({ line }, told) => {
        if (line === null || !("reference" in line)) return false
        if (!stationFile().has(line.reference)) return `follows ${line.reference}`
        if (line.kind === "tide") {
          const { offsets } = told
          if (offsets?.reference !== `noaa/${line.reference}`) return "reference"
          const fixed = offsets.height.type === "fixed"
          const same = (["high", "low"] as const).every((which) => {
            const { minutes, ratio, plus_m } = line.offsets[which]
            const height = offsets.height[which]
            return (
              minutes === offsets.time[which] &&
              close(ratio, fixed ? 1 : height, 3) &&
              close(plus_m, fixed ? height : 0, 3)
            )
          })
          return same ? false : "offsets"
        }
        const offsets = told.current?.offsets
        if (offsets?.reference !== `noaa/${line.reference}`) return "reference"
        const own = line.offsets
        const same =
          own.slack_before_flood_min === offsets.slack_before_flood &&
          own.flood_min === offsets.flood_time &&
          own.slack_before_ebb_min === offsets.slack_before_ebb &&
          own.ebb_min === offsets.ebb_time &&
          close(own.flood_ratio, offsets.flood_speed_ratio, 3) &&
          close(own.ebb_ratio, offsets.ebb_speed_ratio, 3)
        return same ? false : "offsets"
      }),
    ).toEqual([])
    expect(
      everywhere(({ line }, told) => {
        if (line?.kind !== "current") return false
        const { flood_direction = null, ebb_direction = null } = told.current ?? {}
        return line.flood_direction_deg === flood_direction && line.ebb_direction_deg === ebb_direction
          ? false
          : "directions"
      }),
    ).toEqual([])
  })
})
