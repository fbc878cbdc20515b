import { unitIds, units } from "../../shared/units.ts"
import { readNumber } from "../tape/amount.ts"

/** A number as it was typed. */
export type Typed = { readonly text: string; readonly value: number }

/** `under 60 f`: the sign, one number or two, and their unit if one was typed. */
export type Comparison = {
  /** How many words it took. */
  readonly words: number
  readonly sign: Sign | null
  readonly low: Typed
  /** Set where two ends were said. */
  readonly high: Typed | null
  readonly unit: string | null
}
export type Sign = "<" | "<=" | ">" | ">=" | "="

const signs: readonly (readonly [Sign, readonly string[]])[] = [
  ["<=", ["not more than", "no more than", "at most", "up to", "<=", "≤"]],
  [">=", ["not less than", "no less than", "at least", ">=", "≥"]],
  [">", ["more than", "greater than", "higher than", "longer than", "deeper than", "over", "above", ">"]],
  ["<", ["less than", "fewer than", "lower than", "shorter than", "shallower than", "under", "below", "<"]],
  ["=", ["exactly", "="]],
]
const signsBehind: readonly (readonly [Sign, readonly string[]])[] = [
  [">=", ["or more", "and more", "or over"]],
  ["<=", ["or less", "or fewer", "or under"]],
]

/** Signs of comparison stand apart from the number behind them, as words do. */
export const partSigns = (text: string): string =>
  text.replaceAll(/\s*(<=|>=|[<>=≤≥])\s*(?=[-+.\d])/g, " $1 ")

const number = String.raw`(?:\d+\/\d+|\d+(?:\.\d+)?|\.\d+)`
const unit = String.raw`([^\d\s.,/+-]\S*)?`
const oneNumber = new RegExp(String.raw`^([-+]?${number})${unit}$`)
const twoNumbers = new RegExp(String.raw`^(${number})(?:-|–|\.\.)(${number})${unit}$`)

/**
 * Reads a comparison at the head of `words`: `under 60 f`, `between 3 and 6 ft`, `3 to 6`, `3-6ft`, `5 or more`, `> 5`, or a bare
 * number. Null where there is none.
 */
export function readComparison(words: readonly string[]): Comparison | null {
  const before = signAt(words, signs)
  const opens = before === null && (words[0] === "between" || words[0] === "from")
  const at = before?.words ?? (opens ? 1 : 0)
  if (before === null) {
    const range = readRange(words, at)
    if (range !== null || opens) return range
  }
  const [, text, joined] = oneNumber.exec(words[at] ?? "") ?? []
  const low = typed(text)
  if (low === null) return null
  const said = withUnit(words, at + 1, joined)
  const behind = before === null ? signAt(words.slice(said.words), signsBehind) : null
  return {
    words: said.words + (behind?.words ?? 0),
    unit: said.unit,
    low,
    high: null,
    sign: (before ?? behind)?.sign ?? null,
  }
}

/** `3-6`, `3 to 6`, `3 .. 6`, `3 and 6` behind "between"; both ends are in it, whichever is named first. */
function readRange(words: readonly string[], at: number): Comparison | null {
  const joint = twoNumbers.exec(words[at] ?? "")
  const [from, to, joined, next] = joint === null ? apart(words, at) : [joint[1], joint[2], joint[3], at + 1]
  const [a, b] = [typed(from), typed(to)]
  if (a === null || b === null) return null
  const [low, high] = a.value <= b.value ? [a, b] : [b, a]
  return { ...withUnit(words, next, joined), low, high, sign: null }
}

function apart(
  words: readonly string[],
  at: number,
): readonly [string | undefined, string | undefined, string | undefined, number] {
  const [from, fromUnit] = (oneNumber.exec(words[at] ?? "") ?? []).slice(1)
  const between = fromUnit === undefined && isUnit(words[at + 1]) ? at + 2 : at + 1
  const joiner = words[between] ?? ""
  const joins = ["to", "..", "-", "–"].includes(joiner) || (joiner === "and" && words[0] === "between")
  const [to, toUnit] = joins ? (oneNumber.exec(words[between + 1] ?? "") ?? []).slice(1) : []
  const unitOfFirst = fromUnit ?? (between === at + 2 ? words[at + 1] : undefined)
  return [from, to, toUnit ?? (isUnit(words[between + 2]) ? undefined : unitOfFirst), between + 2]
}

function withUnit(
  words: readonly string[],
  next: number,
  joined: string | undefined,
): Pick<Comparison, "words" | "unit"> {
  if (joined !== undefined) return { words: next, unit: joined }
  const word = words[next]
  return isUnit(word) && !beginsTime(words, next)
    ? { words: next + 1, unit: word ?? null }
    : { words: next, unit: null }
}

const spellings: ReadonlySet<string> = new Set(["%", ...unitIds.flatMap((id) => units[id].spellings)])
const isUnit = (word: string | undefined): boolean =>
  word !== undefined && spellings.has(word.replace(/\.$/, ""))

/** An "in" with more behind it than another comparison is no inch: "fish over 20 in spring". */
const beginsTime = (words: readonly string[], at: number): boolean =>
  words[at] === "in" &&
  /^(?:the|winter|spring|summer|fall|autumn|(?:19|20)\d\d|jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)/.test(
    words[at + 1] ?? "",
  )

const typed = (text: string | undefined): Typed | null => {
  const value = text === undefined ? null : readNumber(text)
  return text === undefined || value === null ? null : { text, value }
}

function signAt(
  words: readonly string[],
  among: readonly (readonly [Sign, readonly string[]])[],
): { readonly sign: Sign; readonly words: number } | null {
  for (const [sign, spelled] of among)
    for (const said of spelled) {
      const parts = said.split(" ")
      if (parts.every((part, i) => words[i] === part)) return { sign, words: parts.length }
    }
  return null
}
