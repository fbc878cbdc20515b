import type { DayStrike } from "../../shared/day.ts"
import { counterLetters, fateLetters, tookOnLetters } from "../../shared/notation.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import type { Fate } from "../../shared/vocabulary.ts"
import { amountText, readAmount, settled } from "./amount.ts"
import { clockText, type DayPlace, instantAfter, readClock } from "./clock.ts"
import { type Names, named } from "./names.ts"
import { part, type Piece, quoted, splitAt, unquoted, Unreadable } from "./piece.ts"

/** What came of a stint, as one cell or the end of a line tells it. */
export type Came = {
  strikes: DayStrike[]
  follows: number | null
  hang_ups: number | null
  lures_lost: number | null
}

export const nothingCame = (): Came => ({ strikes: [], follows: null, hang_ups: null, lures_lost: null })

/** What such tokens are read with; `start` is the stint's, for clocks of single fish. */
export type CameContext = {
  readonly names: Names
  readonly reader: ReaderUnits
  readonly place: DayPlace
  readonly start: number | null
}

const mostRepeats = 200
const strikeOf = (fate: Fate, species_id: string | null = null): DayStrike => ({
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
    } else throw new Unreadable(here, `"${letter}" is no fate: ${fateHelp}.`, [...fates, ...counters])
  }
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

/** What came of a stint as tokens that `readCameToken` reads to the same; the first begins with a dot where it is letters. */
export function cameTokens(came: Came, context: CameContext): string[] {
  const groups: string[] = []
  const counts = Object.entries(counterLetters)
    .map(([letter, column]) => repeated(letter, came[column] ?? 0))
    .join("")
  let at = 0
  let counted = counts === ""
  while (at < came.strikes.length) {
    const run = runAt(came.strikes, at)
    const letters = run.every(isPlainFate)
    if (letters && !counted) {
      groups.push(`.${letterRuns(run)}${counts}`)
      counted = true
    } else groups.push(runText(run, context))
    at += run.length
  }
  return counted ? groups : [`.${counts}`, ...groups]
}

/** Strikes that are told in one token: plain fates together, landed fish of one species together, others alone. */
function runAt(strikes: readonly DayStrike[], at: number): DayStrike[] {
  const first = strikes[at]
  if (first === undefined) return []
  const counted = isInCount(strikes, at)
  const same = (strike: DayStrike, i: number): boolean =>
    isPlainFate(first)
      ? isPlainFate(strike)
      : first.fate === "landed" &&
        strike.fate === "landed" &&
        strike.species_id === first.species_id &&
        isInCount(strikes, i) === counted
  const run = [first]
  for (let i = at + 1; i < strikes.length; i++) {
    const strike = strikes[i]
    if (strike === undefined || !same(strike, i)) break
    run.push(strike)
  }
  return run
}

/** So many fish that nothing is known of, one after the other, are counted, not listed. */
const leastCounted = 3

function isInCount(strikes: readonly DayStrike[], at: number): boolean {
  const bare = (i: number): boolean => {
    const [strike, here] = [strikes[i], strikes[at]]
    return (
      strike !== undefined &&
      isBare(strike) &&
      strike.fate === "landed" &&
      strike.species_id === here?.species_id
    )
  }
  if (!bare(at)) return false
  let [from, to] = [at, at]
  while (bare(from - 1)) from--
  while (bare(to + 1)) to++
  return to - from + 1 >= leastCounted
}

const isPlainFate = (strike: DayStrike): boolean =>
  strike.fate !== "landed" && strike.species_id === null && marksOf(strike, null) === ""
const isBare = (strike: DayStrike): boolean => strike.length_mm === null && marksOf(strike, null) === ""

function runText(run: readonly DayStrike[], context: CameContext): string {
  const [first] = run
  if (first === undefined) return ""
  const code = first.species_id === null ? null : context.names.textOf("species", first.species_id)
  if (first.fate !== "landed")
    return isPlainFate(first)
      ? `.${letterRuns(run)}`
      : `${code ?? ""}.${letterOf(first.fate)}${marksOf(first, context)}`
  if (run.every(isBare) && run.length >= leastCounted) return `${code ?? "fish"}*${run.length}`
  const items = run.map(
    (fish) =>
      `${fish.length_mm === null ? "?" : amountText(fish.length_mm, "mm", context.reader)}${marksOf(fish, context)}`,
  )
  return `${code ?? "fish"}${items.join(",")}`
}

const letterOf = (fate: Fate): string => Object.entries(fateLetters).find(([, of]) => of === fate)?.[0] ?? "m"

/** `mml`, `m4`: a letter is repeated up to three times, then counted. */
function letterRuns(run: readonly DayStrike[]): string {
  const letters = run.map(({ fate }) => letterOf(fate))
  let text = ""
  for (let i = 0; i < letters.length;) {
    const letter = letters[i] ?? ""
    let n = 1
    while (letters[i + n] === letter) n++
    text += repeated(letter, n)
    i += n
  }
  return text
}

const repeated = (letter: string, n: number): string => (n <= 2 ? letter.repeat(n) : `${letter}${n}`)

const tookLetter = (took: DayStrike["took_on"]): string =>
  Object.entries(tookOnLetters).find(([, of]) => of === took)?.[0] ?? ""

/** Without a context only whether there are marks is told. */
function marksOf(strike: DayStrike, context: CameContext | null): string {
  const kept = strike.kept === null ? "" : strike.kept === 1 ? "k" : "r"
  const weight =
    strike.weight_g === null
      ? ""
      : `w${context === null ? "" : amountText(settled(strike.weight_g / 1000), "kg", context.reader)}`
  const at =
    strike.at === null ? "" : `@${context === null ? "" : clockText(strike.at, context.start, context.place)}`
  const took = strike.took_on === null ? "" : `:${tookLetter(strike.took_on)}`
  const where = strike.hooked_where === null ? "" : `/${quoted(strike.hooked_where)}`
  return `${kept}${weight}${at}${took}${where}`
}
