import type { Completions } from "../../shared/day.ts"
import { overrideWords, readingKeys } from "../../shared/notation.ts"
import { factorOf, isFactorId } from "../../shared/factors.ts"
import type { Names } from "./names.ts"
import { tapeWord } from "./word.ts"

const mostChoices = 8

/** What could be typed on at the caret of a tape; null where nothing can be told. */
export function completionsAt(text: string, caret: number, names: Names): Completions | null {
  const lineFrom = text.lastIndexOf("\n", caret - 1) + 1
  const line = text.slice(lineFrom, caret)
  if (/(?:^|\s);/.test(line) || (line.match(/"/g) ?? []).length % 2 === 1) return null
  const [typed = ""] = /[^\s+|>]*$/.exec(line) ?? []
  const choices = choicesFor(line.slice(0, line.length - typed.length), typed, names)
  if (choices.length === 0) return null
  const [begun = ""] = /[^/]*$/.exec(typed) ?? []
  return { from: caret - begun.length, to: caret, choices: choices.slice(0, mostChoices) }
}

type Choice = Completions["choices"][number]

function choicesFor(before: string, typed: string, names: Names): Choice[] {
  if (before.trimStart().startsWith("@")) return readingChoices(before, typed)
  if (typed.startsWith("@") || typed === "") return []
  const slash = typed.lastIndexOf("/")
  if (slash > 0) return overrideChoices(typed.slice(slash + 1))
  if (before.trim() === "") {
    const lanes = names.beginning(typed, ["angler"])
    return lanes.flatMap(({ code, name }) =>
      code === null ? [] : [{ text: `${code}>`, said: `the lane of ${name}` }],
    )
  }
  return names
    .beginning(typed, ["spot", "presentation", "species"])
    .filter(({ retired }) => !retired)
    .map(({ kind, id, name }) => ({ text: names.textOf(kind, id), said: name }))
}

const begins = (word: string, typed: string): boolean => word.toLowerCase().startsWith(typed.toLowerCase())

const overrideChoices = (typed: string): Choice[] =>
  Object.entries(overrideWords).flatMap(([column, words]) =>
    words
      .map((word) => tapeWord(word))
      .filter((word) => begins(word, typed))
      .map((word) => ({
        text: word,
        said: isFactorId(column) ? factorOf(column).label.toLowerCase() : column,
      })),
  )

function readingChoices(before: string, typed: string): Choice[] {
  const last = before.trim().split(/\s+/).at(-1) ?? ""
  const key = Object.entries(readingKeys).find(([, spellings]) =>
    spellings.some((word) => word === last),
  )?.[0]
  const factor = key !== undefined && isFactorId(key) ? factorOf(key) : null
  if (factor?.kind === "categorical")
    return (factor.levels ?? [])
      .map(tapeWord)
      .filter((word) => begins(word, typed))
      .map((word) => ({ text: word, said: factor.label.toLowerCase() }))
  if (factor !== null) return []
  return Object.entries(readingKeys)
    .filter(([, [word]]) => begins(word, typed))
    .map(([column, [word]]) => ({
      text: word,
      said: isFactorId(column) ? factorOf(column).label.toLowerCase() : "other boats",
    }))
}
