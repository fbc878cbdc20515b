import type { DayStrike } from "../../shared/day.ts"
import { counterLetters, fateLetters, tookOnLetters } from "../../shared/notation.ts"
import type { Fate } from "../../shared/vocabulary.ts"
import { readAmount, settled } from "./amount.ts"
import type { Came, CameContext } from "./came.ts"
import { instantAfter, readClock } from "./clock.ts"
import { type Names, named } from "./names.ts"
import { part, type Piece, splitAt, unquoted, Unreadable } from "./piece.ts"

const mostRepeats = 200
/** A strike of which only the fate is known, and the species where it is. */
export const strikeOf = (fate: Fate, species_id: string | null = null): DayStrike => ({
  id: null,
  fate,
  species_id,
  at: null,
  took_on: null,
  length_mm: null,
  weight_g: null,
  kept: null,
  hooked_where: null,
})

const isFate = (letter: string): letter is keyof typeof fateLetters => letter in fateLetters
const isCounter = (letter: string): letter is keyof typeof counterLetters => letter in counterLetters

/** Letters after a dot: `.mml`, `.m4g`, `.m@645:p`. `species` is that of a code before the dot. */
export function readLetters(piece: Piece, species: string | null, came: Came, context: CameContext): void {
  let at = 0
  if (piece.text === "")
    throw new Unreadable(piece, "A dot wants letters behind it: m missed, l lost.", fates)
  while (at < piece.text.length) {
    const letter = (piece.text[at] ?? "").toLowerCase()
    const [digits = ""] = /^\d+/.exec(piece.text.slice(at + 1)) ?? []
    const here = part(piece, at, at + 1 + digits.length)
    const times = digits === "" ? 1 : Number(digits)
    if (times > mostRepeats) throw new Unreadable(here, `${times} times is more than a stint can hold.`)
    at += 1 + digits.length
    if (isCounter(letter)) {
      if (species !== null)
        throw new Unreadable(here, `"${letter}" counts something else than strikes of that fish.`, fates)
      const column = counterLetters[letter]
      came[column] = (came[column] ?? 0) + times
    } else if (isFate(letter)) {
      const marked = readMarks(part(piece, at), strikeOf(fateLetters[letter], species), false, context)
      at += marked.length
      for (let i = 0; i < times; i++) came.strikes.push({ ...marked.strike })
    } else if (isBefore(piece.text.slice(at - here.text.length)))
      throw numberBefore(piece, at - here.text.length)
    else throw new Unreadable(here, `"${letter}" is no fate: ${fateHelp}.`, [...fates, ...counters])
  }
}

const countBefore = /^(\d+)(\p{L})/u
const isBefore = (text: string): boolean => {
  const letter = countBefore.exec(text)?.[2]?.toLowerCase() ?? ""
  return isFate(letter) || isCounter(letter)
}

/** `3f`, where `f3` was meant. */
function numberBefore(piece: Piece, at: number): Unreadable {
  const [whole = "", count = "", letter = ""] = countBefore.exec(piece.text.slice(at)) ?? []
  const meant = `${letter}${count}`
  return new Unreadable(part(piece, at, at + whole.length), `A number stands behind its letter: ${meant}.`, [
    meant,
  ])
}

const fates = Object.keys(fateLetters).slice(0, 3)
const counters = Object.keys(counterLetters)
const fateHelp = "m missed, l lost, b bitten off; f follow, g hung up, k lure lost"

/** Landed fish of a species: `24,22r`, `*5`, `?`, nothing for one that was not measured. */
export function readFish(piece: Piece, species: string | null, came: Came, context: CameContext): void {
  const [, count, marks = ""] = /^\*(\d+)(.*)$/.exec(piece.text) ?? []
  if (count !== undefined) {
    const times = Number(count)
    if (times < 1 || times > mostRepeats)
      throw new Unreadable(
        piece,
        `${count} fish: a number from 1 to ${mostRepeats} is wanted after the star.`,
      )
    const marksPiece = part(piece, piece.text.length - marks.length)
    const { strike, length } = readMarks(marksPiece, strikeOf("landed", species), true, context)
    if (length < marks.length) throw noMark(part(marksPiece, length))
    for (let i = 0; i < times; i++) came.strikes.push({ ...strike })
    return
  }
  for (const item of splitAt(piece, (letter) => letter === ","))
    came.strikes.push(readOneFish(item, species, context))
}

const fishLength = /^(?:\?|(\d+(?:\.\d+)?(?:mm|cm|in)?))/i

function readOneFish(piece: Piece, species: string | null, context: CameContext): DayStrike {
  const [whole = "", length] = fishLength.exec(piece.text) ?? []
  const strike = strikeOf("landed", species)
  if (length !== undefined) {
    strike.length_mm = readAmount(part(piece, 0, length.length), "mm", context.reader)
    if (strike.length_mm <= 0) throw new Unreadable(piece, "A length is more than nothing.")
  }
  const marks = part(piece, whole.length)
  const read = readMarks(marks, strike, true, context)
  if (read.length < marks.text.length) throw noMark(part(marks, read.length))
  return read.strike
}

const noMark = (piece: Piece): Unreadable =>
  new Unreadable(
    piece,
    `"${piece.text}" says nothing of a fish: r released, k kept, w2.5 weight, @645 when, :f on the fall, /lip hooked where.`,
    ["r", "k"],
  )

const isTook = (letter: string): letter is keyof typeof tookOnLetters => letter in tookOnLetters

/** Marks behind one strike. Returns it with them, and how many letters they took; what is no mark is left. */
function readMarks(
  piece: Piece,
  before: DayStrike,
  landed: boolean,
  context: CameContext,
): { strike: DayStrike; length: number } {
  const strike = { ...before }
  let at = 0
  for (;;) {
    const rest = piece.text.slice(at)
    const next = (length: number): Piece => part(piece, at, at + length)
    const [weight] = landed ? (/^w\d+(?:\.\d+)?(?:kg|lb|oz|g)?/i.exec(rest) ?? []) : []
    const [clock] = /^@(?:\d{4}-\d{2}-\d{2}\/)?\d{1,2}(?::?\d{2}(?::\d{2})?)?(?!\d)[ap]?\*?/i.exec(rest) ?? []
    const [took] = /^:[a-z]/i.exec(rest) ?? []
    const [where] = /^\/(?:"(?:[^"]|"")*"|[\p{L}\d-]+)/u.exec(rest) ?? []
    if (landed && /^[rk]/i.test(rest)) {
      strike.kept = rest[0]?.toLowerCase() === "k" ? 1 : 0
      at += 1
    } else if (weight !== undefined) {
      strike.weight_g = settled(1000 * readAmount(part(next(weight.length), 1), "kg", context.reader))
      at += weight.length
    } else if (clock !== undefined) {
      strike.at = readStrikeClock(part(next(clock.length), 1), context)
      at += clock.length
    } else if (took !== undefined) {
      const letter = took.slice(1).toLowerCase()
      if (!isTook(letter))
        throw new Unreadable(
          next(2),
          `"${letter}" is none of f fall, p pause, m move.`,
          Object.keys(tookOnLetters),
        )
      strike.took_on = tookOnLetters[letter]
      at += took.length
    } else if (where !== undefined) {
      strike.hooked_where = unquoted(where.slice(1))
      at += where.length
    } else return { strike, length: at }
  }
}

function readStrikeClock(piece: Piece, { place, start }: CameContext): number {
  const clock = readClock(piece.text)
  if (clock === null) throw new Unreadable(piece, `"${piece.text}" is no clock. Write @645.`)
  return instantAfter(piece, clock, start, place)
}

/** The fates in a token of their own, `.mml`, or a fish token after its code. Returns false for what is neither. */
export function readCameToken(
  piece: Piece,
  last: { species: string | null },
  came: Came,
  context: CameContext,
): boolean {
  const { text } = piece
  if (text.startsWith(".")) {
    readLetters(part(piece, 1), null, came, context)
    return true
  }
  if (/^[\d?*]/.test(text)) {
    readFish(piece, last.species, came, context)
    return true
  }
  const code = speciesIn(piece, context.names)
  if (code === null) return false
  last.species = code.species
  const rest = part(piece, code.length)
  if (rest.text.startsWith(".")) readLetters(part(rest, 1), code.species, came, context)
  else readFish(rest, code.species, came, context)
  return true
}

/** The species code at the head of a token, and its length; `fish` is one whose species nobody noted. */
function speciesIn(piece: Piece, names: Names): { species: string | null; length: number } | null {
  const { text } = piece
  const [unknown] = /^fish(?![\p{L}])/iu.exec(text) ?? []
  if (unknown !== undefined) return { species: null, length: unknown.length }
  const [bracket] = /^\[(?:[^\]]|\]\])*\]/.exec(text) ?? []
  if (bracket !== undefined) {
    const found = names.find(bracket)
    if (found !== null && found.kind !== "species") return null
    return { species: named(part(piece, 0, bracket.length), ["species"], names).id, length: bracket.length }
  }
  const [word = ""] = /^\p{L}[\p{L}\d]*/u.exec(text) ?? []
  const whole = names.find(word)
  if (whole !== null && whole.kind !== "species") return null
  for (let length = word.length; length > 0; length--) {
    const found = names.find(word.slice(0, length), ["species"])
    if (found !== null && /^$|^[\d?*.,rkw@:/]/i.test(text.slice(length))) return { species: found.id, length }
  }
  return null
}
