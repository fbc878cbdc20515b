import type { DayStop } from "../../shared/day.ts"
import type { SheetColumn, SheetEdit } from "../../shared/sheet.ts"
import { sheetColumns } from "../../shared/sheet.ts"
import type { TapeContext } from "../tape/context.ts"
import { Unreadable } from "../tape/piece.ts"
import type { TapeDay } from "../tape/reader.ts"
import { stopTimes } from "../tape/stopTimes.ts"
import { cellText } from "./cellText.ts"
import { DayEditor } from "./editor.ts"
import { columnsFrom } from "./sheet.ts"

/** A day after some edits: the day, where its new rows stand, what was left as it is and why, and the edits in words. */
export type Edited = {
  readonly day: TapeDay
  /** Places of the rows that were made. */
  readonly added: readonly number[]
  readonly told: readonly string[]
  /** "pasted", "added": how new stints came to be; `cells`: how many cells were typed. */
  readonly how: string
  readonly cells: number
}

/**
 * Carries out the edits of one act on a canonical day whose stints have their ids. A cell that cannot be read is kept as typed;
 * one that shows something else by now than when it was typed is left as it is, and told.
 */
export function applyEdits(day: TapeDay, edits: readonly SheetEdit[], context: TapeContext): Edited {
  const editor = new DayEditor(day, context)
  const run = new Run(editor, context)
  for (const edit of edits) run.apply(edit)
  const added = editor.day.stints.flatMap(({ id }, i) => (id?.startsWith(newRow) === true ? [i] : []))
  const stints = editor.day.stints.map((stint) =>
    stint.id?.startsWith(newRow) === true ? { ...stint, id: null } : stint,
  )
  const stops = withTimes(day, { ...editor.day, stints })
  const pasted = edits.some((edit) => edit.do === "paste")
  return {
    day: { ...editor.day, stints, stops },
    added,
    told: run.told,
    how: pasted ? "pasted" : "added",
    cells: run.cells,
  }
}

const newRow = "new row "

/** The stops after edits: their times go with their stints' where they did before. */
export function withTimes(before: TapeDay, after: TapeDay): DayStop[] {
  const timesIn = ({ stints }: TapeDay, index: number) =>
    stopTimes(stints.filter(({ stop }) => stop === index))
  return after.stops.map((stop, index) => {
    const derived = timesIn(after, index)
    const old = stop.id === null ? -1 : before.stops.findIndex(({ id }) => id === stop.id)
    const was = timesIn(before, old)
    const start_at = old < 0 || stop.start_at === was.start_at ? derived.start_at : stop.start_at
    const end_at = old < 0 || stop.end_at === was.end_at ? derived.end_at : stop.end_at
    return {
      ...stop,
      start_at,
      end_at: end_at !== null && start_at !== null && end_at < start_at ? null : end_at,
    }
  })
}

class Run {
  readonly #editor: DayEditor
  readonly #context: TapeContext
  readonly told: string[] = []
  cells = 0
  #made = 0

  constructor(editor: DayEditor, context: TapeContext) {
    this.#editor = editor
    this.#context = context
  }

  apply(edit: SheetEdit): void {
    switch (edit.do) {
      case "set":
        return this.#set(edit.row, edit.column, edit.text, edit.was)
      case "add":
        return this.#add(edit.after, edit.cells)
      case "remove":
        for (const row of edit.rows) {
          const at = this.#place(row)
          if (at !== null) this.#editor.remove(at)
        }
        return
      case "paste":
        return this.#paste(edit.row, edit.column, edit.block)
      case "fill": {
        const [first, ...others] = edit.rows
        const at = first === undefined ? null : this.#place(first)
        if (at === null) return
        const text = this.#textOf(at, edit.column)
        for (const row of others) this.#set(row, edit.column, text, undefined)
      }
    }
  }

  /** A row's place; a row that is gone is told. */
  #place(row: string): number | null {
    const at = this.#editor.day.stints.findIndex(({ id }) => id === row)
    if (at >= 0) return at
    this.told.push("A row was removed elsewhere meanwhile; what was typed in it has no place.")
    return null
  }

  #textOf(at: number, column: SheetColumn): string {
    const kept = this.#editor.day.unread.find(({ stint, place }) => stint === at && place === column)
    return kept?.text ?? cellText(this.#editor.day, at, column, this.#context)
  }

  #set(row: string, column: SheetColumn, text: string, was: string | undefined): void {
    const at = this.#place(row)
    if (at === null) return
    const shown = this.#textOf(at, column)
    if (was !== undefined && was !== shown && text !== shown) {
      this.told.push(
        `A cell (${column}) was changed elsewhere to "${shown}" meanwhile and stays so; "${text}" was not put in its place.`,
      )
      return
    }
    this.#put(at, column, text)
  }

  #put(at: number, column: SheetColumn, text: string): void {
    const { day } = this.#editor
    this.cells += 1
    const unread = day.unread.filter(({ stint, place }) => !(stint === at && place === column))
    try {
      this.#editor.set(at, column, text)
      day.unread.splice(0, day.unread.length, ...unread)
    } catch (error) {
      if (!(error instanceof Unreadable)) throw error
      const kept = day.unread.find(({ stint, place }) => stint === at && place === column)
      const line = {
        id: kept?.id ?? null,
        stint: at,
        place: column,
        position: at,
        text: text === "" ? " " : text,
      }
      this.#editor.day.unread.splice(0, this.#editor.day.unread.length, ...unread, line)
    }
  }

  #add(after: string | null | undefined, cells: Partial<Record<SheetColumn, string>>): void {
    const { stints } = this.#editor.day
    const above =
      after === null
        ? -1
        : after === undefined
          ? stints.length - 1
          : stints.findIndex(({ id }) => id === after)
    this.#insert(above < 0 && after !== null ? stints.length : above + 1, cells)
  }

  #insert(at: number, cells: Partial<Record<SheetColumn, string>>): void {
    this.#editor.insert(at)
    const stint = this.#editor.day.stints[at]
    if (stint !== undefined) stint.id = `${newRow}${++this.#made}`
    // A row that says its start has none from above: one that ended before stays ended.
    if (stint !== undefined && (cells.start ?? "") !== "") stint.start_at = null
    for (const column of sheetColumns) {
      const text = cells[column]
      if (text !== undefined && text !== "") this.#put(at, column, text)
    }
  }

  #paste(row: string | null, column: SheetColumn, block: readonly (readonly string[])[]): void {
    const from = row === null ? this.#editor.day.stints.length : this.#place(row)
    if (from === null) return
    const columns = columnsFrom(column)
    for (const [i, texts] of block.entries()) {
      const at = from + i
      const cells: Partial<Record<SheetColumn, string>> = {}
      for (const [c, text] of texts.entries()) {
        const into = columns[c]
        if (into !== undefined) cells[into] = text
      }
      if (at >= this.#editor.day.stints.length) this.#insert(this.#editor.day.stints.length, cells)
      else
        for (const into of sheetColumns) {
          const text = cells[into]
          if (text !== undefined) this.#put(at, into, text)
        }
    }
  }
}
