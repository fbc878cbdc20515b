import type { CodedEver, CodeKind } from "../../shared/codes.ts"
import { codeKey } from "../codes.ts"
import { type Piece, Unreadable } from "./piece.ts"

/** The user's things by code and name. */
export type Names = {
  /** The thing that a code, or a name in brackets, stands for; null where there is none of these kinds. */
  find(text: string, kinds?: readonly CodeKind[]): CodedEver | null
  /** How a thing is written so that `find` finds it again: its code, else its name in brackets. */
  textOf(kind: CodeKind, id: string): string
  nameOf(id: string): string
  byId(id: string): CodedEver | null
  byMark(mark: string): CodedEver | null
  /** What may be typed where these kinds are wanted and this is begun, by code. */
  beginning(text: string, kinds: readonly CodeKind[]): CodedEver[]
}

/** Names over the whole list, deleted things too: these can be printed, and found by their id. */
export function namesOf(rows: readonly CodedEver[]): Names {
  const living = rows.filter(({ deleted }) => !deleted)
  const group = <K>(of: readonly CodedEver[], key: (row: CodedEver) => K | null): Map<K, CodedEver[]> => {
    const groups = new Map<K, CodedEver[]>()
    for (const row of of) {
      const at = key(row)
      if (at !== null) groups.set(at, [...(groups.get(at) ?? []), row])
    }
    return groups
  }
  const byCode = group(living, ({ code }) => (code === null ? null : codeKey(code)))
  const byName = group(living, ({ name }) => name)
  const byFoldedName = group(living, ({ name }) => codeKey(name))
  const byMark = group(living, ({ mark }) => (mark === null ? null : codeKey(mark)))
  const byId = new Map(rows.map((row) => [row.id, row]))

  const only = (found: readonly CodedEver[] | undefined, kinds: readonly CodeKind[] | undefined) => {
    const fit = (found ?? []).filter(({ kind }) => kinds === undefined || kinds.includes(kind))
    return fit.length === 1 ? (fit[0] ?? null) : null
  }
  const find: Names["find"] = (text, kinds) => {
    if (!text.startsWith("[")) return only(byCode.get(codeKey(text)), kinds)
    const inside = text.slice(1, -1).replaceAll("]]", "]")
    const [, id] = /^#(.+)$/.exec(inside) ?? []
    if (id !== undefined) {
      const row = byId.get(id)
      return row !== undefined && (kinds === undefined || kinds.includes(row.kind)) ? row : null
    }
    return only(byName.get(inside), kinds) ?? only(byFoldedName.get(codeKey(inside)), kinds)
  }
  return {
    find,
    byId: (id) => byId.get(id) ?? null,
    byMark: (mark) => only(byMark.get(codeKey(mark)), ["presentation"]),
    nameOf: (id) => byId.get(id)?.name ?? "something that is no longer there",
    textOf: (kind, id) => {
      const row = byId.get(id)
      if (row?.code != null && find(row.code, [kind])?.id === id && find(row.code)?.id === id) return row.code
      const name = row === undefined ? "" : `[${row.name.replaceAll("]", "]]")}]`
      const unmarked = row !== undefined && !/[\n"[]|^#|^\s|\s$/.test(row.name) && row.name !== "?"
      return unmarked && find(name)?.id === id ? name : `[#${id}]`
    },
    beginning: (text, kinds) =>
      living
        .filter(
          ({ kind, code, name }) =>
            kinds.includes(kind) &&
            (codeKey(code ?? "").startsWith(codeKey(text)) || codeKey(name).startsWith(codeKey(text))),
        )
        .toSorted((a, b) => (a.code ?? `~${a.name}`).localeCompare(b.code ?? `~${b.name}`, "en")),
  }
}

const kindWords: Readonly<Record<CodeKind, string>> = {
  spot: "a spot",
  presentation: "a presentation",
  species: "a fish",
  angler: "an angler",
}

/** The thing a piece names. Throws Unreadable, with the nearest codes, where it names none of these kinds. */
export function named(piece: Piece, kinds: readonly CodeKind[], names: Names): CodedEver {
  const found = names.find(piece.text, kinds)
  if (found !== null) return found
  const other = names.find(piece.text)
  const wanted = kinds.map((kind) => kindWords[kind]).join(" or ")
  const why =
    other === null
      ? `"${piece.text}" is no code of yours. Wanted here: ${wanted}.`
      : `"${piece.text}" is ${kindWords[other.kind]}, ${other.name}. Wanted here: ${wanted}.`
  throw new Unreadable(piece, why, nearCodes(piece.text, kinds, names))
}

/** Codes that begin alike or differ by one letter, at most six. */
function nearCodes(text: string, kinds: readonly CodeKind[], names: Names): string[] {
  const key = codeKey(text)
  const all = names.beginning("", kinds).flatMap(({ code }) => code ?? [])
  const close = all.filter((code) => oneOff(codeKey(code), key))
  const alike = all.filter((code) => codeKey(code)[0] === key[0])
  return [...new Set([...close, ...alike])].slice(0, 6)
}

/** Whether two words differ by one letter changed, added, left out or exchanged with the next. */
function oneOff(a: string, b: string): boolean {
  if (Math.abs(a.length - b.length) > 1) return false
  let i = 0
  while (i < a.length && a[i] === b[i]) i++
  const rest = (text: string, from: number): string => text.slice(from)
  return (
    rest(a, i + 1) === rest(b, i + 1) ||
    rest(a, i + 1) === rest(b, i) ||
    rest(a, i) === rest(b, i + 1) ||
    (a[i] === b[i + 1] && a[i + 1] === b[i] && rest(a, i + 2) === rest(b, i + 2))
  )
}
