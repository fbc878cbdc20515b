import { ProblemError } from "../../../shared/problems.ts"
import { fold, spaced } from "./fold.ts"
import { type Recognition, type TableKind, type Target, recognise, targetNames } from "./targets.ts"

/**
 * One mapping as typed: the columns on its left, and what they mean in either kind of table: a null target leaves them
 * out, undefined is no word of such a table.
 */
export type Mapping = {
  readonly text: string
  readonly left: string
  readonly meaning: {
    readonly stints: Target | null | undefined
    readonly strikes: Target | null | undefined
  }
}

const unclear = (sentence: string, details: Record<string, unknown>): ProblemError =>
  new ProblemError("map_unclear", sentence, details)

/**
 * Reads mappings such as `Their column=ours`, `Year+Month+Day=date`, `KOCatch=landed:kokanee`, `Date=date:dmy` and
 * `Their column=ignore`. Whether the columns exist is for the table to say. Throws ProblemError "map_unclear".
 */
export function readMappings(map: readonly string[]): Mapping[] {
  return map.map((text) => {
    const at = text.lastIndexOf("=")
    const left = at < 0 ? "" : text.slice(0, at).trim()
    const right = at < 0 ? "" : text.slice(at + 1).trim()
    if (left === "" || right === "") {
      throw unclear(`The mapping "${text}" is not of the form "Their column=ours".`, { map: text })
    }
    const meaning = { stints: targetOf(right, "stints"), strikes: targetOf(right, "strikes") }
    if (meaning.stints === undefined && meaning.strikes === undefined) throw unknownTarget(text, right)
    return { text, left, meaning }
  })
}

/** Undefined where the words mean nothing in such a table, null where they say to leave the column out. */
function targetOf(right: string, kind: TableKind): Target | null | undefined {
  if (fold(right) === "ignore") return null
  const whole = only(recognise(right, kind))
  if (whole !== undefined) return whole
  const colon = right.indexOf(":")
  if (colon < 0) return undefined
  const target = only(recognise(right.slice(0, colon), kind))
  const detail = spaced(right.slice(colon + 1))
  if (target?.kind === "count" && detail !== "") return { ...target, species: detail }
  if (target?.kind === "moment" && (detail === "dmy" || detail === "mdy")) return { ...target, order: detail }
  return undefined
}

const only = (found: Recognition): Target | undefined =>
  found?.kind === "one" && found.target.kind !== "derived" ? found.target : undefined

function unknownTarget(text: string, right: string): ProblemError {
  const found = recognise(right, "stints")
  const sentence =
    found?.kind === "several"
      ? `In "${text}", "${right}" fits ${found.ids.join(" and ")}; write the one that is meant.`
      : `In "${text}", "${right}" is none of our columns. Ours are ${targetNames("stints")}; in a strikes table ${targetNames("strikes")}; or ignore.`
  return unclear(sentence, { map: text, target: right })
}

/**
 * The columns (from 0) that a mapping's left side names, or null where it names none of this table. A header that itself
 * holds a plus sign is taken whole before the left side is parted at plus signs. Throws ProblemError "map_unclear" where
 * two columns have the header.
 */
export function sourcesIn(mapping: Mapping, headers: readonly string[]): number[] | null {
  const { left } = mapping
  const whole = columnsNamed(left, headers)
  const groups = whole.length > 0 ? [whole] : left.split("+").map((part) => columnsNamed(part, headers))
  const columns: number[] = []
  for (const [at, group] of groups.entries()) {
    const [first, second] = group
    if (first === undefined) return null
    if (second !== undefined) {
      const name = whole.length > 0 ? left : (left.split("+")[at] ?? left)
      throw unclear(
        `In "${mapping.text}", "${name.trim()}" is the header of two columns; rename one of them.`,
        {
          map: mapping.text,
        },
      )
    }
    columns.push(first)
  }
  return columns
}

function columnsNamed(name: string, headers: readonly string[]): number[] {
  const wanted = fold(name)
  return headers.flatMap((header, at) => (wanted !== "" && fold(header) === wanted ? [at] : []))
}

/** The mapping names a column that no table has. */
export const unknownSource = (mapping: Mapping, headers: readonly string[]): ProblemError =>
  unclear(
    `In "${mapping.text}", there is no such column. The table has ${headers.map((header) => `"${spaced(header)}"`).join(", ")}.`,
    { map: mapping.text, columns: headers.map(spaced) },
  )

/** Two columns that would mean the same. */
export const sameTarget = (file: string, headers: readonly string[], key: string): ProblemError =>
  unclear(
    `${file}: the columns ${headers.map((header) => `"${spaced(header)}"`).join(" and ")} would both be ${key}. ` +
      `Say which (--map "${spaced(headers[0] ?? "")}=${key}"), or leave one out (--map "${spaced(headers[1] ?? "")}=ignore").`,
    { file, columns: headers.map(spaced), target: key },
  )
