import { type Coded, type CodeKind, codeKinds, type CodeVerdict, type CodeWish } from "../shared/codes.ts"
import { codePattern, reservedWords } from "../shared/notation.ts"

const kindWords: Readonly<Record<CodeKind, string>> = {
  spot: "spot",
  presentation: "presentation",
  species: "species",
  angler: "angler",
}

/** In which form codes are compared. */
export const codeKey = (code: string): string => code.toLowerCase().normalize("NFC")

/**
 * Why a code cannot be given to the thing `id` (null: a new one) among the others; null where it can. A presentation that
 * was retired keeps its code: its days still print with it.
 */
export function codeProblem(
  code: string,
  kind: CodeKind | null,
  id: string | null,
  others: readonly Coded[],
): string | null {
  if (!codePattern.test(code))
    return `"${code}" cannot be a code: a letter first, then letters or digits, eight at most.`
  const meaning = Object.entries(reservedWords).find(([word]) => word === code.toLowerCase())?.[1]
  if (meaning !== undefined) return `"${code}" is a word of the tape (${meaning}). Choose another code.`
  const holder = others.find((other) => other.code !== null && codeKey(other.code) === codeKey(code))
  if (holder === undefined || holder.id === id) return fishProblem(code, kind, id, others)
  return `"${code}" is the code of the ${kindWords[holder.kind]} ${holder.name}. All codes share one list: choose another.`
}

/** A fish's length stands right behind its code, rd24: no code may look like a fish with its length. */
function fishProblem(
  code: string,
  kind: CodeKind | null,
  id: string | null,
  others: readonly Coded[],
): string | null {
  if (kind === "species" && /\d$/.test(code))
    return `"${code}" ends in a digit, and a fish's length stands right behind its code. Choose letters.`
  const looksLike = (one: string, fish: string): boolean =>
    codeKey(one).startsWith(codeKey(fish)) && /^\d+$/.test(one.slice(fish.length))
  const taken = others.find(
    (other) =>
      other.id !== id &&
      other.code !== null &&
      (other.kind === "species"
        ? looksLike(code, other.code)
        : kind === "species" && looksLike(other.code, code)),
  )
  if (taken === undefined) return null
  return taken.kind === "species"
    ? `"${code}" reads as a ${taken.name} with its length. Choose another code.`
    : `${taken.name} has the code ${taken.code ?? ""}, which would read as this fish with its length. Choose another code.`
}

/** Why a mark cannot be given to the presentation `id`; null where it can. */
export function markProblem(mark: string, id: string | null, others: readonly Coded[]): string | null {
  if (!/^[\p{L}\d]$/u.test(mark)) return `"${mark}" cannot be a mark: one letter or digit.`
  const holder = others.find((other) => other.mark !== null && codeKey(other.mark) === codeKey(mark))
  if (holder === undefined || holder.id === id) return null
  return `"${mark}" is the mark of ${holder.name}. Choose another.`
}

/** Whether a code and a mark may be given, and free ones made from the name. */
export function judgeCodes({ kind, id, name, code, mark }: CodeWish, all: readonly Coded[]): CodeVerdict {
  return {
    code_problem: code === null ? null : codeProblem(code, kind, id, all),
    mark_problem: mark === null ? null : markProblem(mark, id, all),
    suggested: {
      code: suggestCode(name, kind, id, all),
      mark: kind === "presentation" ? suggestMark(code ?? name, id, all) : null,
    },
  }
}

/**
 * A free code for a name: the first letters of its words ("Mill Drain": md), else its first letters, its first and its
 * consonants, and at last with a number.
 */
function suggestCode(name: string, kind: CodeKind, id: string | null, all: readonly Coded[]): string {
  const words = lettersIn(name)
  const whole = words.join("")
  const [first = "x", ...rest] = whole
  const initials = words.map((word) => word[0] ?? "").join("")
  const consonants = rest.filter((letter) => !"aeiouy".includes(letter) && !/\d/.test(letter))
  const wanted = [
    ...(words.length > 1 ? [initials.slice(0, 2), initials.slice(0, 3)] : []),
    whole.slice(0, 2),
    ...consonants.map((letter) => first + letter),
    whole.slice(0, 3),
    ...rest.map((letter) => first + letter),
  ]
  const free = (code: string) => code.length > 1 && codeProblem(code, kind, id, all) === null
  const found = wanted.find(free)
  if (found !== undefined) return found
  for (let n = 0; ; n++) {
    const tail = kind === "species" ? lettersOf(n) : String(n + 2)
    if (free(`${first}${tail}`)) return `${first}${tail}`
  }
}

/** 0, 1, 2 ... as a, b ... z, ba, bb: a species' code cannot be numbered. */
const lettersOf = (n: number): string =>
  n < 26 ? String.fromCharCode(97 + n) : `${lettersOf(Math.floor(n / 26))}${lettersOf(n % 26)}`

/** A free mark, from a presentation's code or name; null where every letter and digit is taken. */
function suggestMark(name: string, id: string | null, all: readonly Coded[]): string | null {
  const wanted = `${lettersIn(name).join("")}abcdefghijklmnopqrstuvwxyz0123456789`.split("")
  return wanted.find((mark) => markProblem(mark, id, all) === null) ?? null
}

/** The words of a name in small letters without accents, none beginning with a digit. */
const lettersIn = (name: string): string[] =>
  name
    .normalize("NFD")
    .replaceAll(/\p{Mn}/gu, "")
    .toLowerCase()
    .split(/[^\p{L}\d]+/u)
    .map((word) => word.replace(/^\d+/, ""))
    .filter((word) => word !== "")

/** The list as it is shown: by kind, those with a code first. */
export const inListOrder = (all: readonly Coded[]): Coded[] =>
  all.toSorted(
    (a, b) =>
      codeKinds.indexOf(a.kind) - codeKinds.indexOf(b.kind) ||
      Number(a.code === null) - Number(b.code === null) ||
      (a.code ?? a.name).localeCompare(b.code ?? b.name, "en"),
  )
