import type { GridEdit } from "../../shared/sheet.ts"
import { Unreadable } from "../tape/piece.ts"
import type { TapeDay } from "../tape/reader.ts"

/** Rows of a day that are edited cell by cell, each named by its id. */
export type EditedRows<C extends string> = {
  readonly columns: readonly C[]
  /** The rows in order. */
  readonly ids: readonly string[]
  /** What a cell says as it is read, as it is typed. */
  text(row: string, column: C): string
  /** Puts a typed text into a cell. Throws Unreadable, and changes nothing, where it cannot be read. */
  set(row: string, column: C, text: string): void
  /** What a cell holds that could not be read; null where it was. */
  unread(row: string, column: C): string | null
  /** Keeps a text that could not be read as it was typed; null: there is none any more. */
  keep(row: string, column: C, text: string | null): void
  /** Makes a row at a place for cells that are put in it next; gives its id, or why there can be none. */
  insert(at: number, cells: Partial<Record<C, string>>): string | { readonly why: string }
  remove(row: string): void
}

/**
 * Carries out edits one after the other. A cell that cannot be read is kept as typed; one that shows something else by now
 * than when it was typed is left as it is, and told. Gives those sentences, and how many cells were typed.
 */
export function runEdits<C extends string>(
  rows: EditedRows<C>,
  edits: readonly GridEdit<C>[],
): { told: string[]; cells: number } {
  const run = new Run(rows)
  for (const edit of edits) run.apply(edit)
  return { told: run.told, cells: run.cells }
}

/** The word for rows that these edits made. */
export const howAdded = (edits: readonly { readonly do: string }[]): string =>
  edits.some((edit) => edit.do === "paste") ? "pasted" : "added"

/** Keeps a cell of the stint at `at` as it was typed, at its place; null: it was read. */
export function putUnreadCell(day: TapeDay, at: number, place: string, text: string | null): void {
  const kept = day.unread.find((line) => line.stint === at && line.place === place)
  const others = day.unread.filter((line) => line !== kept)
  const line = {
    id: kept?.id ?? null,
    stint: at,
    place,
    position: at,
    text: text === "" ? " " : (text ?? ""),
  }
  day.unread.splice(0, day.unread.length, ...others, ...(text === null ? [] : [line]))
}

class Run<C extends string> {
  readonly #rows: EditedRows<C>
  readonly told: string[] = []
  cells = 0

  constructor(rows: EditedRows<C>) {
    this.#rows = rows
  }

  apply(edit: GridEdit<C>): void {
    switch (edit.do) {
      case "set":
        return this.#set(edit.row, edit.column, edit.text, edit.was)
      case "add":
        return this.#add(edit.after, edit.cells)
      case "remove":
        for (const row of edit.rows) if (this.#isThere(row)) this.#rows.remove(row)
        return
      case "paste":
        return this.#paste(edit.row, edit.after, edit.column, edit.block)
      case "fill": {
        const [first, ...others] = edit.rows
        if (first === undefined || !this.#isThere(first)) return
        const text = this.#textOf(first, edit.column)
        for (const row of others) this.#set(row, edit.column, text, undefined)
      }
    }
  }

  /** Whether a row is there; one that is gone is told. */
  #isThere(row: string): boolean {
    if (this.#rows.ids.includes(row)) return true
    this.told.push("A row was removed elsewhere meanwhile; what was typed in it has no place.")
    return false
  }

  #textOf(row: string, column: C): string {
    return this.#rows.unread(row, column) ?? this.#rows.text(row, column)
  }

  #set(row: string, column: C, text: string, was: string | undefined): void {
    if (!this.#isThere(row)) return
    const shown = this.#textOf(row, column)
    if (was !== undefined && was !== shown && text !== shown) {
      this.told.push(
        `A cell (${column}) was changed elsewhere to "${shown}" meanwhile and stays so; "${text}" was not put in its place.`,
      )
      return
    }
    this.#put(row, column, text)
  }

  #put(row: string, column: C, text: string): void {
    this.cells += 1
    try {
      this.#rows.set(row, column, text)
      this.#rows.keep(row, column, null)
    } catch (error) {
      if (!(error instanceof Unreadable)) throw error
      this.#rows.keep(row, column, text)
    }
  }

  #add(after: string | null | undefined, cells: Partial<Record<C, string>>): void {
    const { ids } = this.#rows
    const above = after === null ? -1 : after === undefined ? ids.length - 1 : ids.indexOf(after)
    this.#insert(above < 0 && after !== null ? ids.length : above + 1, cells)
  }

  /** Makes a row; gives its id, or null where there can be none, which is told. */
  #insert(at: number, cells: Partial<Record<C, string>>): string | null {
    const made = this.#rows.insert(at, cells)
    if (typeof made !== "string") {
      this.told.push(made.why)
      return null
    }
    for (const column of this.#rows.columns) {
      const text = cells[column]
      if (text !== undefined && text !== "") this.#put(made, column, text)
    }
    return made
  }

  #paste(
    row: string | null,
    after: string | undefined,
    column: C,
    block: readonly (readonly string[])[],
  ): void {
    if (row !== null && !this.#isThere(row)) return
    const columns = this.#rows.columns.slice(this.#rows.columns.indexOf(column))
    const before = this.#rows.ids
    const from = row === null ? before.length : before.indexOf(row)
    let last = after === undefined || !before.includes(after) ? before.at(-1) : after
    for (const [i, texts] of block.entries()) {
      const cells: Partial<Record<C, string>> = {}
      for (const [c, text] of texts.entries()) {
        const into = columns[c]
        if (into !== undefined) cells[into] = text
      }
      const into = before[from + i]
      if (into === undefined)
        last = this.#insert(last === undefined ? 0 : this.#rows.ids.indexOf(last) + 1, cells) ?? last
      else
        for (const each of this.#rows.columns) {
          const text = cells[each]
          if (text !== undefined) this.#put(into, each, text)
        }
    }
  }
}
