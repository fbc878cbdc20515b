// npm run stations: writes noaa.jsonl.gz anew from the station package of the development dependencies. Only what the US
// National Oceanic and Atmospheric Administration publishes into the public domain, and of it only its own fields: what
// the package derived from other sources (place names, countries, zones) stays out.
import { readFileSync, writeFileSync } from "node:fs"
import { createRequire } from "node:module"
import { fileURLToPath } from "node:url"
import { gzipSync } from "node:zlib"
import { stationsById, type Station as PackageStation } from "@neaps/tide-database"
import { z } from "zod"
import { isConstituent, type ConstituentName } from "../../tide/constituents.ts"
import { CurrentSubordinate, type StationFileHeader, type StationLine } from "../stationFile.ts"

const require = createRequire(import.meta.url)
const { version } = z
  .object({ version: z.string() })
  .parse(JSON.parse(readFileSync(require.resolve("@neaps/tide-database/package.json"), "utf8")))

/** Digits as the source prints them: millimetres, thousandths of a knot, tenths of a degree. */
const rounded = (value: number, digits: number): number => Number(value.toFixed(digits))
const shortId = (id: string): string => id.replace(/^noaa\//, "")

type Outcome = { readonly line: StationLine } | { readonly leftOut: string }

function lineOf(station: PackageStation): Outcome {
  if (station.quality?.accepted === false)
    return { leftOut: `not accepted (${station.quality.reason ?? "quality"})` }
  const base = {
    id: shortId(station.id),
    name: station.name.trim(),
    lat: rounded(station.latitude, 5),
    lon: rounded(station.longitude, 5),
  }
  return station.kind === "tide" ? tideLine(station, base) : currentLine(station, base)
}

type Base = Pick<StationLine, "id" | "name" | "lat" | "lon">

function tideLine(station: PackageStation, base: Base): Outcome {
  if (station.type === "subordinate") {
    const { offsets } = station
    if (offsets === undefined) return { leftOut: "no offsets" }
    const fixed = offsets.height.type === "fixed"
    const side = (which: "high" | "low") => ({
      minutes: offsets.time[which],
      ratio: fixed ? 1 : rounded(offsets.height[which], 3),
      plus_m: fixed ? rounded(offsets.height[which], 3) : 0,
    })
    return {
      line: {
        ...base,
        kind: "tide",
        reference: shortId(offsets.reference),
        offsets: { high: side("high"), low: side("low") },
      },
    }
  }
  const { MSL, MLLW, GT } = station.datums
  if (MSL === undefined || MLLW === undefined) return { leftOut: "no mean sea level above lower low water" }
  const constants = constantsOf(station)
  if (typeof constants === "string") return { leftOut: constants }
  return {
    line: {
      ...base,
      kind: "tide",
      datum: "MLLW",
      mean_m: rounded(MSL - MLLW, 3),
      great_diurnal_range_m: GT === undefined ? null : rounded(GT, 3),
      constants,
    },
  }
}

function currentLine(station: PackageStation, base: Base): Outcome {
  const { current } = station
  if (current === undefined) return { leftOut: "no directions" }
  const directions = {
    flood_direction_deg: current.flood_direction ?? null,
    ebb_direction_deg: current.ebb_direction ?? null,
  }
  if (station.type === "subordinate") {
    const { offsets } = current
    if (offsets === undefined) return { leftOut: "no offsets" }
    const own = CurrentSubordinate.shape.offsets.safeParse({
      slack_before_flood_min: offsets.slack_before_flood,
      flood_min: offsets.flood_time,
      slack_before_ebb_min: offsets.slack_before_ebb,
      ebb_min: offsets.ebb_time,
      flood_ratio: rounded(offsets.flood_speed_ratio ?? Number.NaN, 3),
      ebb_ratio: rounded(offsets.ebb_speed_ratio ?? Number.NaN, 3),
    })
    if (!own.success) return { leftOut: "offsets are incomplete" }
    const reference = shortId(offsets.reference)
    return { line: { ...base, kind: "current", reference, ...directions, offsets: own.data } }
  }
  const constants = constantsOf(station)
  if (typeof constants === "string") return { leftOut: constants }
  return {
    line: {
      ...base,
      kind: "current",
      mean_flow_kn: rounded(current.mean_flow ?? 0, 4),
      ...directions,
      constants,
    },
  }
}

/** The station's constants that are not zero, or why they will not do. */
function constantsOf(station: PackageStation): [ConstituentName, number, number][] | string {
  const constants: [ConstituentName, number, number][] = []
  for (const { name, amplitude, phase } of station.harmonic_constituents) {
    if (amplitude === 0) continue
    if (!isConstituent(name)) return "more constituents than the 37 that are predicted here"
    constants.push([name, rounded(amplitude, 4), rounded(phase, 1)])
  }
  return constants.length === 0 ? "no constituents" : constants
}

const ours = [...stationsById.values()].filter(
  ({ id, license }) => id.startsWith("noaa/") && license.type === "public domain",
)
const lines = new Map<string, StationLine>()
const reasons = new Map<string, number>()
const leaveOut = (why: string) => reasons.set(why, (reasons.get(why) ?? 0) + 1)
for (const station of ours) {
  const outcome = lineOf(station)
  if ("line" in outcome) lines.set(outcome.line.id, outcome.line)
  else leaveOut(outcome.leftOut)
}
for (const line of lines.values())
  if ("reference" in line && !lines.has(line.reference)) {
    lines.delete(line.id)
    leaveOut("its reference station is left out")
  }

const [year, month, day] = [version.slice(-8, -4), version.slice(-4, -2), version.slice(-2)]
const header: StationFileHeader = {
  source: "US National Oceanic and Atmospheric Administration, National Ocean Service (CO-OPS)",
  through: `@neaps/tide-database ${version}`,
  date: `${year}-${month}-${day}`,
  licence: "public domain",
  stations: lines.size,
}
const sorted = [...lines.values()].toSorted((a, b) => (a.id < b.id ? -1 : 1))
const text = [header, ...sorted].map((line) => JSON.stringify(line)).join("\n")
const file = fileURLToPath(new URL("../noaa.jsonl.gz", import.meta.url))
writeFileSync(file, gzipSync(text, { level: 9 }))
console.log(`${lines.size} of ${ours.length} stations written to ${file}. Left out:`)
for (const [why, count] of reasons) console.log(`  ${count}: ${why}`)
