import type { DayStrike } from "../../shared/day.ts"
import { counterLetters, fateLetters, tookOnLetters } from "../../shared/notation.ts"
import type { Fate } from "../../shared/vocabulary.ts"
import { amountText, settled } from "./amount.ts"
import type { Came, CameContext } from "./came.ts"
import { clockText } from "./clock.ts"
import { quoted } from "./piece.ts"

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
