import type { DayReading } from "../../shared/day.ts"
import { factorOf, isFactorId } from "../../shared/factors.ts"
import { type ReadingKey, readingKeys } from "../../shared/notation.ts"
import { readerUnit, type ReaderUnits } from "../../shared/readerUnits.ts"
import { compassPoints, degreesAPoint } from "../../shared/weather.ts"
import { readFactor, withinField } from "../exchange/read/factorCell.ts"
import { amountText, settled } from "./amount.ts"
import { part, type Piece, quoted, unquoted, Unreadable } from "./piece.ts"
import { fixedWord, tapeWord } from "./word.ts"

/** What one reading says; what is left out is unknown. */
export type ReadingValues = Omit<DayReading, "id" | "at" | "stop" | "stint" | "source">

/** Which waters it is of: the stop's, the stint's alone, or those around. */
export type ReadingOf = "stop" | "stint" | "trip"

export type ReadingToken = {
  readonly values: ReadingValues
  readonly source: DayReading["source"]
  readonly of: ReadingOf
}

const noReading: ReadingValues = {
  water_temp_c: null,
  visibility: null,
  water_colour: null,
  secchi_cm: null,
  salinity_psu: null,
  water_depth_m: null,
  water_movement: null,
  bank_water: null,
  wind_speed_ms: null,
  wind_dir_deg: null,
  cloud_okta: null,
  barometer_hpa: null,
  barometer_3h_hpa: null,
  bait_seen: null,
  other_boats: null,
}

const isKey = (key: string): key is ReadingKey => Object.hasOwn(readingKeys, key)
const columns = Object.keys(readingKeys).filter(isKey)
const spellings = columns.flatMap((column) => readingKeys[column].map((word) => [word, column] as const))

/** What an instrument shows; a reading of nothing else is taken to be one of an instrument. */
const measured: ReadonlySet<ReadingKey> = new Set<ReadingKey>([
  "water_temp_c",
  "secchi_cm",
  "salinity_psu",
  "water_depth_m",
  "barometer_hpa",
  "barometer_3h_hpa",
])

/**
 * The words of a reading: `w71 v stained wind 6 sw`. A word is followed by its value, or joined to it where that is a number.
 * Throws Unreadable.
 */
export function readReading(words: readonly Piece[], reader: ReaderUnits): ReadingToken {
  const values: ReadingValues = { ...noReading }
  let source: DayReading["source"] | null = null
  let of: ReadingOf = "stop"
  for (let i = 0; i < words.length; i++) {
    const word = words[i]
    if (word === undefined) break
    if (word.text === "seen" || word.text === "gauge") source = word.text === "seen" ? "seen" : "instrument"
    else if (word.text === "trip" || word.text === "this") of = word.text === "trip" ? "trip" : "stint"
    else {
      const { column, joined } = keyOf(word)
      const value = joined ?? words[++i]
      if (value === undefined) throw new Unreadable(word, `"${word.text}" wants a value behind it.`)
      if (column === "wind_speed_ms") i += readWind(value, words[i + 1], values, reader)
      else Object.assign(values, { [column]: readValue(column, value, reader) })
    }
  }
  const said = columns.filter((column) => values[column] !== null)
  if (said.length === 0) throw new Unreadable(wholeOf(words), "A reading wants a value.", allKeys)
  const usual = said.every((column) => measured.has(column)) ? "instrument" : "seen"
  return { values, source: source ?? usual, of }
}

const allKeys = columns.map((column) => readingKeys[column][0])
const wholeOf = (words: readonly Piece[]): Piece => words[0] ?? { text: "", at: 0 }

function keyOf(word: Piece): { column: ReadingKey; joined: Piece | null } {
  const text = word.text.toLowerCase()
  const alone = spellings.find(([spelling]) => spelling === text)
  if (alone !== undefined) return { column: alone[1], joined: null }
  const begun = spellings
    .filter(([spelling]) => text.startsWith(spelling) && /^[-+\d.]/.test(text.slice(spelling.length)))
    .toSorted(([a], [b]) => b.length - a.length)[0]
  if (begun !== undefined) return { column: begun[1], joined: part(word, begun[0].length) }
  throw new Unreadable(word, `"${word.text}" is no reading. Write ${allKeys.join(", ")}.`, allKeys)
}

function readValue(column: ReadingKey, piece: Piece, reader: ReaderUnits): number | string {
  const text = unquoted(piece.text)
  if (text === "") throw new Unreadable(piece, "There is nothing between the quotation marks.")
  if (column === "other_boats") {
    if (/^\d{1,3}$/.test(text)) return Number(text)
    throw new Unreadable(piece, `"${text}" is no number of boats.`)
  }
  const factor = isFactorId(column) ? factorOf(column) : null
  if (factor?.kind === "categorical" && factor.levels !== null)
    return fixedWord({ ...piece, text }, factor.levels, factor.label)
  if (factor?.kind === "categorical") return text
  const unit = factor === null ? null : factor.unit
  const read = readFactor(column, unit === null ? null : readerUnit(unit, reader), text, false)
  if (read.kind === "refused") throw new Unreadable(piece, sentence(read.reason))
  if (typeof read.value === "string") return read.value
  const checked = withinField(column, settled(read.value), unit)
  if (checked.kind === "refused") throw new Unreadable(piece, sentence(checked.reason))
  return checked.value
}

const sentence = (reason: string): string => `${reason.slice(0, 1).toUpperCase()}${reason.slice(1)}.`

const isPoint = (text: string): boolean => compassPoints.some((point) => point === text.toUpperCase())

/** Wind: a speed, where it comes from, or both. Returns how many words more than the first it took. */
function readWind(
  first: Piece,
  second: Piece | undefined,
  values: ReadingValues,
  reader: ReaderUnits,
): number {
  const direction = (piece: Piece): void => {
    Object.assign(values, { wind_dir_deg: readValue("wind_dir_deg", piece, reader) })
  }
  if (isPoint(first.text)) {
    direction(first)
    return 0
  }
  Object.assign(values, { wind_speed_ms: readValue("wind_speed_ms", first, reader) })
  if (second === undefined || !(isPoint(second.text) || /^\d+$/.test(second.text))) return 0
  direction(second)
  return 1
}

/** A reading's words as typed: `w71 v stained wind 6 SW`. */
export function readingText(reading: ReadingToken, reader: ReaderUnits): string {
  const { values } = reading
  const said = columns.filter((column) => values[column] !== null)
  const words = said.flatMap((column) => {
    if (column === "wind_dir_deg" && values.wind_speed_ms !== null) return []
    const text = valueText(column, values[column], reader)
    if (column !== "wind_speed_ms" || values.wind_dir_deg === null)
      return [column === "water_temp_c" ? `w${text}` : `${readingKeys[column][0]} ${text}`]
    return [`wind ${text} ${valueText("wind_dir_deg", values.wind_dir_deg, reader)}`]
  })
  const usual = said.every((column) => measured.has(column)) ? "instrument" : "seen"
  if (reading.source !== usual) words.push(reading.source === "seen" ? "seen" : "gauge")
  if (reading.of !== "stop") words.push(reading.of === "trip" ? "trip" : "this")
  return words.join(" ")
}

function valueText(column: ReadingKey, value: number | string | null, reader: ReaderUnits): string {
  if (typeof value === "string") {
    const factor = isFactorId(column) ? factorOf(column) : null
    return factor?.kind === "categorical" && factor.levels !== null ? tapeWord(value) : quoted(value)
  }
  if (value === null) return ""
  if (column === "wind_dir_deg") {
    const point = value / degreesAPoint
    return Number.isInteger(point) && value < 360
      ? (compassPoints[point] ?? "N")
      : amountText(value, "deg", reader).replace("deg", "")
  }
  const factor = isFactorId(column) ? factorOf(column) : null
  const unit = factor === null || factor.kind === "categorical" ? null : factor.unit
  return unit === null ? String(value) : amountText(value, unit, reader)
}
