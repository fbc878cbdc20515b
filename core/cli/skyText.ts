import { Temporal } from "temporal-polyfill"
import { quantityText, type ReaderUnits } from "../../shared/readerUnits.ts"
import type { Sky, SkyTold } from "../../shared/sky.ts"
import { coordinatesText } from "../conditions/coordinates.ts"
import { nautical } from "../conditions/sunDay.ts"
import { textTable, wrapText, type TextColumn } from "./textTable.ts"

/** Conditions for the terminal: one instant in sentences, or a table of instants; then where they are from, and cautions. */
export function skyText(told: SkyTold, units: ReaderUnits, width: number): string {
  const [first] = told.told
  if (first === undefined) return ""
  const where = `${coordinatesText(told.place, "minutes")}, times of ${told.zone}`
  const body = told.told.length === 1 ? oneInstant(first, told.zone, units) : manyInstants(told, units, width)
  const from = [
    told.tide === null
      ? "No tide station is in reach, so no tide is told; --station names one further off."
      : `Tide: ${told.tide}`,
    ...(told.current === null ? [] : [`Current: ${told.current}`]),
  ]
  return [
    wrapText(`${clock(first.at, told.zone, true)}, ${where}`, width),
    body.flatMap((line) => (told.told.length === 1 ? wrapText(line, width) : [line])),
    from.flatMap((line) => wrapText(line, width)),
    told.cautions.flatMap(({ text }) => wrapText(`! ${text}`, width)),
  ]
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join("\n"))
    .join("\n\n")
}

function clock(at: string, zone: string, dated = false): string {
  const time = Temporal.Instant.from(at).toZonedDateTimeISO(zone)
  const hours = time.toPlainTime().toString({ smallestUnit: "minute" })
  return dated ? `${time.toPlainDate().toString()} ${hours}` : hours
}

function oneInstant({ sun, light, moon, tide, current }: Sky, zone: string, units: ReaderUnits): string[] {
  const at = (name: string, instant: string | null) =>
    instant === null ? `no ${name}` : `${name} ${clock(instant, zone)}`
  return [
    ...(tide === null ? [] : tideSentences(tide, zone, units)),
    ...(current === null
      ? []
      : [
          `Current ${current.stage ?? "weak and variable"}, ${quantityText(current.speed_ms, "ms", units)}${
            current.direction_deg === null ? "" : ` towards ${current.direction_deg.toFixed(0)}°`
          }${current.interpolated ? " (interpolated)" : ""}.`,
        ]),
    `Light: ${light}. Sun ${Math.abs(sun.altitude_deg).toFixed(1)}° ${sun.altitude_deg < 0 ? "below" : "above"} the horizon, bearing ${sun.azimuth_deg.toFixed(0)}°; ${sunTimes(sun, light, at)}.`,
    horizonShows(sun, zone),
    `Moon ${Math.round(moon.illum * 100)}% lit, ${moon.age_d.toFixed(1)} days old, ${hundreds.format(moon.distance_km)} km away; ${at("rise", moon.rise)}, ${moon.transit === null ? "no highest point" : `highest ${clock(moon.transit, zone)}`}, ${at("set", moon.set)}.`,
  ]
}

const hundreds = new Intl.NumberFormat("en-US", { roundingIncrement: 100, maximumFractionDigits: 0 })

/** What nautical twilight is for, in the order of the day's clock. Source: US Naval Observatory definitions (from memory). */
function horizonShows({ nautical_dawn, nautical_dusk, altitude_deg }: Sky["sun"], zone: string): string {
  const turns = [
    { at: nautical_dawn, word: "from nautical dawn" },
    { at: nautical_dusk, word: "until nautical dusk" },
  ]
    .flatMap(({ at, word }) => (at === null ? [] : [{ at, word }]))
    .sort((a, b) => (a.at < b.at ? -1 : 1))
    .map(({ at, word }) => `${word} ${clock(at, zone)}`)
  const always = altitude_deg >= nautical ? "day and night" : "at no time of that day"
  return `In clear weather the sea's horizon shows ${turns.length > 0 ? turns.join(", ") : always}.`
}

function sunTimes(
  { rise, set, civil_dawn, civil_dusk }: Sky["sun"],
  light: Sky["light"],
  at: (name: string, instant: string | null) => string,
): string {
  if (rise !== null || set !== null)
    return [at("dawn", civil_dawn), at("rise", rise), at("set", set), at("dusk", civil_dusk)].join(", ")
  if (light === "day") return "it stays up all day"
  return civil_dawn === null && civil_dusk === null
    ? "it does not rise that day"
    : `it does not rise that day; ${at("dawn", civil_dawn)}, ${at("dusk", civil_dusk)}`
}

function tideSentences(tide: NonNullable<Sky["tide"]>, zone: string, units: ReaderUnits): string[] {
  const { previous, next } = tide
  const marked = tide.interpolated ? " (interpolated)" : ""
  const height = `${quantityText(tide.height_m, "m", units)} above ${tide.datum}${marked}`
  const rate = `${tide.rate_m_h < 0 ? "falling" : "rising"} ${quantityText(Math.abs(tide.rate_m_h), "m_h", units)}`
  if (previous === null || next === null)
    return [`Tide ${height}, ${rate}; too small here to tell high from low water.`]
  const water = ({ kind, at, height_m }: typeof next) =>
    `${kind} water ${clock(at, zone)} (${quantityText(height_m, "m", units)})`
  return [
    `Tide ${tide.part ?? tide.stage ?? ""}: ${height}, ${rate}.`,
    `Last ${water(previous)}, next ${water(next)}.`,
  ]
}

function manyInstants({ told, zone }: SkyTold, units: ReaderUnits, width: number): string[] {
  const right = (title: string): TextColumn => ({ title, align: "right" })
  const left = (title: string): TextColumn => ({ title, align: "left" })
  const withTide = told.some(({ tide }) => tide !== null)
  const withCurrent = told.some(({ current }) => current !== null)
  const columns = [
    left("time"),
    left("light"),
    ...(withTide ? [right("height"), right("rate"), left("tide")] : []),
    ...(withCurrent ? [right("speed"), left("current")] : []),
  ]
  const rows = told.map(({ at, light, tide, current }) => [
    clock(at, zone, true),
    light,
    ...(withTide
      ? [
          tide === null ? "" : quantityText(tide.height_m, "m", units),
          tide === null ? "" : quantityText(tide.rate_m_h, "m_h", units),
          tide?.part ?? "",
        ]
      : []),
    ...(withCurrent
      ? [current === null ? "" : quantityText(current.speed_ms, "ms", units), current?.stage ?? ""]
      : []),
  ])
  return textTable(columns, rows, width)
}
