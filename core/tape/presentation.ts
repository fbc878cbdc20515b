import type { DayStint } from "../../shared/day.ts"
import { overrideWords } from "../../shared/notation.ts"
import { settled } from "./amount.ts"
import { type Cadence, noCadence } from "./cadence.ts"
import { minutesText, readMinutes } from "./clock.ts"
import { type Names, named } from "./names.ts"
import { part, type Piece, Unreadable } from "./piece.ts"
import { type Came, type CameContext, nothingCame } from "./came.ts"
import { cameTokens } from "./printStrikes.ts"
import { readLetters } from "./strikes.ts"
import { fixedWord, tapeWord } from "./word.ts"

/** One presentation of a line, as far as the line tells it. `minutes` are its own share of an effort that is shared. */
export type Part = {
  readonly presentation_id: string | null
  readonly cadence: Cadence
  /** Null where the line says none: then as many as are usual for whose line it is. */
  readonly rods: number | null
  readonly minutes: number | null
  readonly came: Came
}

const head = /^(?:\[(?:[^\]]|\]\])*\]|[^[/*(.]*)/u
const suffix =
  /^(?:\/(\d+(?:\.\d+)?)?x(\d+(?:\.\d+)?)?(?![\p{L}])|\/([\p{L}-]*)|\*(\d*)|\(([^)]*)\)?|\.(.*))/u

/** Whether a token names a presentation at its head. */
export function isPresentation({ text }: Piece, names: Names): boolean {
  const [code = ""] = head.exec(text) ?? []
  return code === "[?]" || names.find(code)?.kind === "presentation"
}

/** `pt/2x3/slow*2(20m).mml`: code, overrides, rods, own minutes, fates. Throws Unreadable. */
export function readPart(piece: Piece, context: CameContext): Part {
  const [code = ""] = head.exec(piece.text) ?? []
  const presentation_id =
    code === "[?]" ? null : named(part(piece, 0, code.length), ["presentation"], context.names).id
  const cadence: Record<keyof Cadence, string | number | null> = { ...noCadence }
  const came = nothingCame()
  let [rods, minutes]: [number | null, number | null] = [null, null]
  let at = code.length
  while (at < piece.text.length) {
    const found = suffix.exec(piece.text.slice(at))
    const whole = part(piece, at, at + (found?.[0].length ?? piece.text.length))
    const inside = part(whole, 1)
    if (found === null) throw new Unreadable(whole, `"${whole.text}" says nothing of a presentation.`)
    const [text, actions, pause, word, count, share, letters] = found
    at += text.length
    if (word !== undefined) Object.assign(cadence, readOverride(inside))
    else if (count !== undefined) rods = readRods(inside)
    else if (share !== undefined) minutes = readShare(whole, share)
    else if (letters !== undefined) readLetters(inside, null, came, context)
    else {
      if (actions === undefined && pause === undefined)
        throw new Unreadable(
          whole,
          "Write /2x3 for two actions and three seconds of pause, /2x or /x3 for one of them.",
        )
      if (actions !== undefined) cadence.actions_per_cycle = positive(inside, Number(actions))
      if (pause !== undefined) cadence.pause_s = settled(Number(pause))
    }
  }
  return { presentation_id, cadence: asCadence(cadence), rods, minutes, came }
}

const positive = (piece: Piece, value: number): number => {
  if (value > 0) return settled(value)
  throw new Unreadable(piece, "Actions are counted from 1.")
}

const allOverrides = Object.values(overrideWords).flat()

function readOverride(piece: Piece): Partial<Cadence> {
  const word = fixedWord(piece, allOverrides, "How it was worked")
  const column = Object.entries(overrideWords).find(([, words]) => words.some((one) => one === word))?.[0]
  return column === undefined ? {} : { [column]: word }
}

function asCadence(cells: Record<keyof Cadence, string | number | null>): Cadence {
  const pick = <W extends string>(words: readonly W[], value: string | number | null): W | null =>
    words.find((word) => word === value) ?? null
  const number = (value: string | number | null): number | null => (typeof value === "number" ? value : null)
  return {
    actions_per_cycle: number(cells.actions_per_cycle),
    pause_s: number(cells.pause_s),
    pace: pick(overrideWords.pace, cells.pace),
    rhythm: pick(overrideWords.rhythm, cells.rhythm),
    line: pick(overrideWords.line, cells.line),
    water_column: pick(overrideWords.water_column, cells.water_column),
    bait: pick(overrideWords.bait, cells.bait),
  }
}

const mostRods = 500

/** A number of rods. */
export function readRods(piece: Piece): number {
  const rods = Number(piece.text)
  if (/^\d+$/.test(piece.text) && rods >= 1 && rods <= mostRods) return rods
  throw new Unreadable(piece, `"${piece.text}" is no number of rods: 1 to ${mostRods}.`)
}

function readShare(piece: Piece, text: string): number {
  const minutes = readMinutes(text)
  if (minutes !== null && minutes > 0) return minutes
  throw new Unreadable(piece, `Write its own minutes in parentheses, (20m); "${text}" are none.`)
}

/** A presentation with its overrides, as typed. */
export function presentationText(
  { presentation_id, ...stint }: Pick<DayStint, "presentation_id"> & Cadence,
  names: Names,
): string {
  const code = presentation_id === null ? "[?]" : names.textOf("presentation", presentation_id)
  const { actions_per_cycle: actions, pause_s: pause } = stint
  const beat = actions === null && pause === null ? "" : `/${number(actions)}x${number(pause)}`
  const words = [stint.pace, stint.rhythm, stint.line, stint.water_column, stint.bait].flatMap((word) =>
    word === null ? [] : `/${tapeWord(word)}`,
  )
  return [`${code}${beat}`, ...words].join("")
}

const number = (value: number | null): string => (value === null ? "" : String(settled(value)))

export const rodsText = (rods: number, usual: number): string => (rods === usual ? "" : `*${rods}`)
export const shareText = (minutes: number | null): string =>
  minutes === null ? "" : `(${minutesText(minutes)})`

/** The tokens of what came, the first joined to the presentation's where it is letters. */
export function withCame(presentation: string, came: Came, context: CameContext): string {
  const [first, ...rest] = cameTokens(came, context)
  if (first === undefined) return presentation
  return first.startsWith(".") && presentation !== ""
    ? [`${presentation}${first}`, ...rest].join(" ")
    : [presentation, first, ...rest].filter((text) => text !== "").join(" ")
}
