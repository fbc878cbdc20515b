import { ProblemError } from "../../shared/problems.ts"
import type { Place } from "./place.ts"

/** How coordinates are printed: decimal degrees, degrees and minutes, or degrees, minutes and seconds. */
export type CoordinateNotation = "decimal" | "minutes" | "seconds"

/**
 * A place as people write it: `31.39000, -81.28800` to paste elsewhere, or `31°23.400′N 81°17.280′W` and
 * `31°23′24.0″N 81°17′16.8″W` to read out, each to 1 to 3 metres. Source: ISO 6709:2008, annex D (from memory).
 */
export function coordinatesText({ lat, lon }: Place, notation: CoordinateNotation): string {
  if (notation === "decimal") return `${decimalText(lat)}, ${decimalText(lon)}`
  const parts = notation === "minutes" ? minutesText : secondsText
  return `${parts(Math.abs(lat))}${lat < 0 ? "S" : "N"} ${parts(Math.abs(lon))}${lon < 0 ? "W" : "E"}`
}

const decimalText = (degrees: number): string => (Math.round(degrees * 1e5) / 1e5 || 0).toFixed(5)

/** Whole thousandths of a minute are divided up, so that nothing rounds to 60. */
function minutesText(degrees: number): string {
  const thousandths = Math.round(degrees * 60_000)
  return `${Math.floor(thousandths / 60_000)}°${twoDigits((thousandths % 60_000) / 1000, 3)}′`
}

function secondsText(degrees: number): string {
  const tenths = Math.round(degrees * 36_000)
  const minutes = Math.floor(tenths / 600)
  return `${Math.floor(minutes / 60)}°${twoDigits(minutes % 60, 0)}′${twoDigits((tenths % 600) / 10, 1)}″`
}

const twoDigits = (value: number, decimals: number): string =>
  value.toFixed(decimals).padStart(decimals === 0 ? 2 : decimals + 3, "0")

/** A number with its sign and the mark that follows it, a hemisphere's letter, or a separator, as typed. */
type Token =
  | { readonly kind: "number"; readonly text: string; readonly sign: string; readonly mark: string }
  | { readonly kind: "letter"; readonly letter: Letter }
  | { readonly kind: "separator" }
type Letter = "N" | "S" | "E" | "W"
type Axis = "latitude" | "longitude"
/** One coordinate in degrees, which axis its letter names, and whether it was typed with a sign. */
type Half = { readonly degrees: number; readonly axis: Axis | null; readonly signed: boolean }
type Refuse = (why: string) => never

const longest = 100
const oneHemisphere = "it names one hemisphere, and a place has a latitude and a longitude"

/**
 * Reads a place from any usual notation: decimal degrees, degrees and minutes, or degrees, minutes and seconds, with
 * signs or hemisphere letters (before or after), with or without the marks for degree, minute and second. Latitude comes
 * first unless letters say otherwise; without letters a number without a sign is north or east. What could mean two
 * things is refused. Throws ProblemError "bad_input". Source of the notations: ISO 6709:2008, annex D (from memory), and
 * common practice.
 */
export function readCoordinates(text: string): Place {
  const typed = text.trim()
  const shown = typed.length > longest ? `${typed.slice(0, longest)}...` : typed
  const refuse: Refuse = (why) => {
    const example = "Write for example 31.39, -81.288 or 31°23.4'N 81°17.3'W."
    throw new ProblemError("bad_input", `"${shown}" is not read as a place: ${why}. ${example}`, {
      text: shown,
    })
  }
  if (shown !== typed) return refuse("it is too long")
  const [one, other] = halvesOf(tokensIn(typed, refuse), refuse).map((half) => readHalf(half, refuse))
  if (one === undefined || other === undefined) return refuse("a place has two numbers")
  return placeOf(one, other, refuse)
}

/** Latitude and longitude told apart by their letters, else by their order, and held to the earth. */
function placeOf(one: Half, other: Half, refuse: Refuse): Place {
  const unsaid = (half: Half) => half.axis === null && !half.signed
  const lettered = one.axis !== null || other.axis !== null
  if (lettered && (unsaid(one) || unsaid(other))) return refuse(oneHemisphere)
  if (lettered && one.axis === other.axis) return refuse(`it has two ${one.axis}s`)
  const longitudeFirst = one.axis === "longitude" || other.axis === "latitude"
  const [lat, lon] = longitudeFirst ? [other.degrees, one.degrees] : [one.degrees, other.degrees]
  if (!lettered && Math.abs(lat) > 90 && Math.abs(lat) <= 180 && Math.abs(lon) <= 90)
    return refuse(`these look swapped, since a latitude ends at 90 and ${lat} comes first`)
  if (Math.abs(lat) > 90) return refuse(`the latitude ${lat} is beyond 90`)
  if (Math.abs(lon) > 180) return refuse(`the longitude ${lon} is beyond 180`)
  return { lat, lon }
}

const spellings: readonly (readonly [RegExp, string])[] = [
  [/[−–‐‑]/g, "-"],
  [/[º˚]|degrees?|deg\b/gi, "°"],
  [/[′’‘´`ʹ]|minutes?|min\b/gi, "'"],
  [/''|[″”“]|seconds?|sec\b/gi, '"'],
  [/north/gi, "N"],
  [/south/gi, "S"],
  [/east/gi, "E"],
  [/west/gi, "W"],
]

const tokenForms = /\s*(?:([+-]?)(\d+(?:\.\d*)?|\.\d+)\s*([°'":]?)|([NSEW])(?![A-Z])|([,;]))\s*/iy

function tokensIn(typed: string, refuse: Refuse): Token[] {
  const tidied = spellings.reduce((text, [spelling, plain]) => text.replaceAll(spelling, plain), typed)
  if (/\d,\d/.test(tidied) && !tidied.includes("."))
    return refuse("a comma between two digits may be a decimal sign, so write a point or a space there")
  // On charts 31-23.4N is degrees and minutes: between digits, where letters tell the hemisphere, a hyphen is no sign.
  const text = /[NSEW]/i.test(tidied) ? tidied.replaceAll(/(?<=\d)-(?=\d)/g, " ") : tidied
  const tokens: Token[] = []
  for (let at = 0; at < text.length; at = tokenForms.lastIndex) {
    tokenForms.lastIndex = at
    const [, sign = "", number, mark = "", letter] =
      tokenForms.exec(text) ?? refuse(`"${text.slice(at)}" cannot be read`)
    if (number !== undefined) tokens.push({ kind: "number", text: number, sign, mark })
    else if (letter === undefined) tokens.push({ kind: "separator" })
    else tokens.push({ kind: "letter", letter: letterOf(letter) })
  }
  return tokens
}

function letterOf(text: string): Letter {
  const upper = text.toUpperCase()
  return upper === "N" || upper === "S" || upper === "E" ? upper : "W"
}

/** The tokens of each of the two coordinates: parted by a comma, else by letters, else as many numbers in each. */
function halvesOf(tokens: readonly Token[], refuse: Refuse): [Token[], Token[]] {
  const at = (kind: Token["kind"]) => tokens.flatMap((token, i) => (token.kind === kind ? [i] : []))
  const [separators, letters, numbers] = [at("separator"), at("letter"), at("number")]
  const [comma, second] = separators
  if (second !== undefined) return refuse("it has more than two parts")
  if (comma !== undefined) return [tokens.slice(0, comma), tokens.slice(comma + 1)]
  if (letters.length > 2) return refuse("it has more than two hemispheres")
  if (letters.length === 1) return refuse(oneHemisphere)
  const [first, last] = letters
  if (first === undefined || last === undefined) {
    if (numbers.length < 2) return refuse("a place has two numbers")
    if (numbers.length % 2 === 1)
      return refuse("it is unclear where the longitude begins, so put a comma there")
    return [tokens.slice(0, numbers.length / 2), tokens.slice(numbers.length / 2)]
  }
  const [before, after] = [first === 0, last === tokens.length - 1]
  if (before === after) return refuse("the letters stand once before and once after their numbers")
  const cut = before ? last : first + 1
  return [tokens.slice(0, cut), tokens.slice(cut)]
}

/** Marks that may follow degrees, minutes and seconds. */
const marks = ["°:", "':", '"']

function readHalf(tokens: readonly Token[], refuse: Refuse): Half {
  const numbers = tokens.filter((token) => token.kind === "number")
  const letters = tokens.filter((token) => token.kind === "letter")
  const [letter, another] = letters
  const inside = tokens.findIndex((token) => token.kind === "letter")
  if (another !== undefined || (inside > 0 && inside < tokens.length - 1))
    return refuse("a letter stands in the wrong place")
  const [whole] = numbers
  if (whole === undefined) return refuse("a place has two numbers")
  if (numbers.length > 3) return refuse("one part has more than degrees, minutes and seconds")
  let degrees = 0
  for (const [i, { text, sign, mark }] of numbers.entries()) {
    const name = ["degrees", "minutes", "seconds"][i] ?? ""
    const isLast = i === numbers.length - 1
    if (mark !== "" && (marks[i]?.includes(mark) !== true || (mark === ":" && isLast)))
      return refuse(`the sign ${mark} does not follow ${name}`)
    if (i > 0 && sign !== "") return refuse(`a sign stands before ${name}`)
    if (i > 0 && Number(text) >= 60) return refuse(`${text} ${name} are not below 60`)
    if (!isLast && text.includes("."))
      return refuse(`${text} ${name} have a fraction and are followed by more`)
    degrees += Number(text) / 60 ** i
  }
  const signed = whole.sign !== ""
  if (letter === undefined) return { degrees: whole.sign === "-" ? 0 - degrees : degrees, axis: null, signed }
  if (signed) return refuse(`${whole.sign}${whole.text} has both a sign and a letter for its hemisphere`)
  const axis = letter.letter === "N" || letter.letter === "S" ? "latitude" : "longitude"
  const negative = letter.letter === "S" || letter.letter === "W"
  return { degrees: negative ? 0 - degrees : degrees, axis, signed }
}
