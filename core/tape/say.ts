import type { DayReading, DayStint, DayStop, DayStrike } from "../../shared/day.ts"
import { counted, listed } from "../../shared/figures.ts"
import { type ReadingKey, readingKeys } from "../../shared/notation.ts"
import { factorOf, isFactorId } from "../../shared/factors.ts"
import { quantityText } from "../../shared/readerUnits.ts"
import { pointOf } from "../../shared/weather.ts"
import { clockWords } from "./clock.ts"
import type { TapeContext } from "./context.ts"
import type { LineRead, TapeDay } from "./reader.ts"
import type { Came } from "./came.ts"

/** What a line says, in words, once the whole tape is read: only then is it known when its stints end. */
export function sayLine(
  line: LineRead,
  day: TapeDay,
  readings: readonly DayReading[],
  context: TapeContext,
): string {
  const zone = context.place.zone
  switch (line.kind) {
    case "nothing":
    case "unclear":
      return ""
    case "date":
      return `The day of ${line.text.trim()}.`
    case "place": {
      const stop = day.stops[line.of[0] ?? -1]
      return stop === undefined ? "" : `At ${sayStop(stop, context)}.`
    }
    case "end":
      return line.at === null ? "" : `Nobody fishes from ${clockWords(line.at, zone)}.`
    case "reading":
      return readings.map((reading) => sayReading(reading, context)).join(" ")
    case "on":
    case "stints":
      return line.of.flatMap((at) => day.stints[at] ?? []).length === 0
        ? ""
        : sayStints(
            line.of.flatMap((at) => day.stints[at] ?? []),
            day,
            context,
          )
  }
}

function sayStints(stints: readonly DayStint[], day: TapeDay, context: TapeContext): string {
  const [first] = stints
  if (first === undefined) return ""
  const stop = day.stops[first.stop]
  const who =
    first.angler_id === context.first_angler
      ? ""
      : `${first.angler_id === null ? "All together" : context.names.nameOf(first.angler_id)}, `
  const place = stop === undefined ? "" : ` at ${sayStop(stop, context)}`
  const shared = first.share_group !== null && stints.length > 1 ? ", effort shared" : ""
  const strip = first.effort_source === "ticked" && stints.length > 1
  const each = stints.map((stint) => {
    const clock = strip && stint !== first ? `${sayTime(stint, context)} ` : ""
    return `${clock}${sayPresentation(stint, context)}${sayCame(stint, context)}`
  })
  const time = sayTime(first, context)
  const opening = `${who}${who === "" ? time : lower(time)}${place}`
  return `${upper(opening)}: ${each.join("; ")}${shared}${sayMore(first, context)}.`
}

const upper = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1)
const lower = (text: string): string => text.slice(0, 1).toLowerCase() + text.slice(1)

function sayTime(stint: DayStint, { place: { zone } }: TapeContext): string {
  const { start_at: start, end_at: end, effort_minutes: effort } = stint
  if (start === null) {
    if (end !== null) return `until ${clockWords(end, zone)}`
    return effort === null ? "not known when" : `for ${minutesWords(effort)}, not known when`
  }
  const from = `${stint.start_about === 1 ? "about " : ""}${clockWords(start, zone)}`
  return end === null
    ? `from ${from}`
    : `${from} to ${clockWords(end, zone)} (${minutesWords((end - start) / 60_000)})`
}

const minutesWords = (minutes: number): string =>
  minutes < 100
    ? `${Number(minutes.toFixed(1))} min`
    : `${Math.floor(minutes / 60)} h ${Math.round(minutes % 60)} min`

const sayStop = ({ spot_id, platform, why_left }: DayStop, { names }: TapeContext): string =>
  [
    spot_id === null ? "no named place" : names.nameOf(spot_id),
    ...(platform === null ? [] : [platform]),
    ...(why_left === null ? [] : [`left: ${why_left}`]),
  ].join(", ")

/** A presentation with what is done otherwise, and its rods. */
export function sayPresentation(stint: DayStint, { names }: TapeContext): string {
  const { actions_per_cycle: actions, pause_s: pause } = stint
  const otherwise = [
    ...(actions === null ? [] : [counted(actions, "action")]),
    ...(pause === null ? [] : [`${pause} s pause`]),
    ...[stint.pace, stint.rhythm, stint.water_column].flatMap((word) => word ?? []),
    ...(stint.line === null ? [] : [`line ${stint.line}`]),
    ...(stint.bait === null ? [] : [`bait ${stint.bait}`]),
  ]
  const name = stint.presentation_id === null ? "presentation not known" : names.nameOf(stint.presentation_id)
  return `${name}${otherwise.length === 0 ? "" : ` (${otherwise.join(", ")})`}${stint.rods === 1 ? "" : ` on ${stint.rods} rods`}`
}

/** What came of a stint: ": 2 missed, 1 lost, landed red drum 24 in and 22 in". */
export function sayCame(came: Came, context: TapeContext): string {
  const others = came.strikes.filter(({ fate }) => fate !== "landed")
  const fates = [...Map.groupBy(others, (strike) => `${speciesOf(strike, context)}${strike.fate}`)].map(
    ([what, of]) => `${of.length} ${what}`,
  )
  const landed = [
    ...Map.groupBy(
      came.strikes.filter(({ fate }) => fate === "landed"),
      ({ species_id }) => species_id,
    ),
  ].map(([species, fish]) => sayFish(species, fish, context))
  const counts = [
    ...(came.follows ? [counted(came.follows, "follow")] : []),
    ...(came.hang_ups ? [counted(came.hang_ups, "hang-up")] : []),
    ...(came.lures_lost ? [`${counted(came.lures_lost, "lure")} lost`] : []),
  ]
  const all = [...fates, ...counts, ...landed]
  return all.length === 0 ? "" : `, ${all.join(", ")}`
}

const speciesOf = ({ species_id }: DayStrike, { names }: TapeContext): string =>
  species_id === null ? "" : `${names.nameOf(species_id)} `

function sayFish(species: string | null, fish: readonly DayStrike[], context: TapeContext): string {
  const name = species === null ? "fish of unknown species" : context.names.nameOf(species)
  const measured = fish.filter(({ length_mm }) => length_mm !== null)
  const lengths = measured.map(
    ({ length_mm, kept, weight_g }) =>
      `${quantityText(length_mm ?? 0, "mm", context.reader)}${weight_g === null ? "" : ` ${quantityText(weight_g / 1000, "kg", context.reader)}`}${kept === null ? "" : kept === 1 ? " kept" : " released"}`,
  )
  const rest = fish.length - measured.length
  if (measured.length === 0) return `landed ${rest === 1 ? `1 ${name}` : `${rest} ${name}`}, not measured`
  return `landed ${name} ${listed([...lengths, ...(rest > 0 ? [`${rest} not measured`] : [])], 50)}`
}

function sayMore(stint: DayStint, context: TapeContext): string {
  const { reader } = context
  const parts = [
    ...(stint.break_minutes === null ? [] : [`${minutesWords(stint.break_minutes)} of rest`]),
    ...(stint.effort_minutes === null || stint.share_group !== null || stint.start_at === null
      ? []
      : [`${minutesWords(stint.effort_minutes)} fished`]),
    ...(stint.sight === "sight" ? ["to fish that were seen"] : []),
    ...(stint.fished_depth_m === null ? [] : [`${quantityText(stint.fished_depth_m, "m", reader)} deep`]),
    ...(stint.counted_misses === 0 ? ["misses not counted"] : []),
    ...(stint.why_changed === null ? [] : [`changed: ${stint.why_changed}`]),
    ...(stint.notes === null ? [] : [`note: ${stint.notes}`]),
  ]
  return parts.length === 0 ? "" : `; ${parts.join("; ")}`
}

const isKey = (key: string): key is ReadingKey => Object.hasOwn(readingKeys, key)

/** A reading in words: "At 6:20: water temperature 71.0 °F, visibility stained, wind 6.0 kn from SW." */
export function sayReading(reading: DayReading, { reader, place }: TapeContext): string {
  const values = Object.keys(readingKeys)
    .filter(isKey)
    .flatMap((column) => {
      const value = reading[column]
      if (value === null) return []
      if (column === "other_boats") return [counted(Number(value), "other boat")]
      if (column === "wind_dir_deg" && typeof value === "number") return [`wind from ${pointOf(value)}`]
      const factor = isFactorId(column) ? factorOf(column) : null
      const label = (factor?.label ?? column).toLowerCase()
      if (
        typeof value === "string" ||
        factor === null ||
        factor.kind === "categorical" ||
        factor.unit === null
      )
        return [`${label} ${value}`]
      return [`${label} ${quantityText(value, factor.unit, reader)}`]
    })
  const when = reading.at === null ? "No time" : `At ${clockWords(reading.at, place.zone)}`
  const of = reading.stint !== null ? ", for this stint" : reading.stop === null ? ", around" : ""
  return `${when}${of}: ${values.join(", ")}.`
}
