import type { Input } from "../../../shared/api.ts"
import type { SheetColumn } from "../../../shared/sheet.ts"

export type Edit = Input<"day.edit">["edits"][number]
/** An act on its way: its edits by the page's own keys of rows, and the rows that it makes. */
export type Waiting = {
  readonly edits: readonly Edit[]
  readonly made: readonly string[]
  readonly cells: readonly string[]
}

/**
 * The acts at the head of the queue as one: cells typed while an earlier save was on its way are kept together, those of a row
 * that is being made with the row itself. Pasting, filling and removing are acts of their own.
 */
export function joined(queue: readonly Waiting[]): { act: Waiting | null; count: number } {
  const typing = queue.findIndex(({ edits }) => edits.some((edit) => edit.do !== "set" && edit.do !== "add"))
  const count = typing === -1 ? queue.length : Math.max(1, typing)
  const [first] = queue
  if (first === undefined) return { act: null, count: 0 }
  if (count === 1) return { act: first, count }
  const acts = queue.slice(0, count)
  const rows = new Map<string, Record<string, string>>()
  const edits: Edit[] = []
  for (const { edits: own, made } of acts)
    for (const edit of own) {
      const [key] = made
      if (edit.do === "add" && key !== undefined) {
        const cells = { ...edit.cells }
        rows.set(key, cells)
        edits.push({ ...edit, cells })
      } else if (edit.do === "set" && rows.has(edit.row))
        Object.assign(rows.get(edit.row) ?? {}, { [edit.column]: edit.text })
      else edits.push(edit)
    }
  return {
    act: { edits, made: acts.flatMap(({ made }) => made), cells: acts.flatMap(({ cells }) => cells) },
    count,
  }
}

/** The page's keys of rows beside the store's: a row keeps the key under which it was begun. */
type RowNames = {
  readonly give: (key: string, id: string) => void
  readonly keyOf: (id: string) => string
  readonly idOf: (key: string) => string
  readonly has: (key: string) => boolean
}

export function rowNames(): RowNames {
  const ids = new Map<string, string>()
  const keys = new Map<string, string>()
  return {
    give: (key, id) => {
      ids.set(key, id)
      keys.set(id, key)
    },
    keyOf: (id) => keys.get(id) ?? id,
    idOf: (key) => ids.get(key) ?? key,
    has: (key) => ids.has(key) || !key.startsWith("new "),
  }
}

export const setting = (row: string, column: SheetColumn, text: string, was: string | null): Edit => ({
  do: "set",
  row,
  column,
  text,
  ...(was === null ? {} : { was }),
})

/** Edits by the store's own ids. */
export const named = (edits: readonly Edit[], names: RowNames): Edit[] =>
  edits.map((edit) => {
    switch (edit.do) {
      case "set":
        return { ...edit, row: names.idOf(edit.row) }
      case "add":
        return typeof edit.after === "string" ? { ...edit, after: names.idOf(edit.after) } : edit
      case "remove":
      case "fill":
        return { ...edit, rows: edit.rows.map((row) => names.idOf(row)) }
      case "paste":
        return { ...edit, row: edit.row === null ? null : names.idOf(edit.row) }
    }
  })
