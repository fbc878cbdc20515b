import type { GridEdit } from "../../../shared/sheet.ts"

/** An act that is not sent yet: its edits by the page's own keys of rows, the row that it makes, and the cells it shows. */
export type Waiting<C extends string> = {
  readonly edits: readonly GridEdit<C>[]
  readonly made: string | null
  readonly cells: readonly string[]
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

export const setting = <C extends string>(
  row: string,
  column: C,
  text: string,
  was: string | null,
): GridEdit<C> => ({ do: "set", row, column, text, ...(was === null ? {} : { was }) })

/** Edits by the store's own ids, as far as rows have them. */
export const named = <C extends string>(edits: readonly GridEdit<C>[], names: RowNames): GridEdit<C>[] =>
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
        return {
          ...edit,
          row: edit.row === null ? null : names.idOf(edit.row),
          ...(edit.after === undefined ? {} : { after: names.idOf(edit.after) }),
        }
    }
  })
