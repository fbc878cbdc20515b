import type { DayStop } from "../../shared/day.ts"
import { sheetColumns, type SheetColumn, type SheetEdit } from "../../shared/sheet.ts"
import type { TapeContext } from "../tape/context.ts"
import type { TapeDay } from "../tape/reader.ts"
import { stopTimes } from "../tape/stopTimes.ts"
import { cellText } from "./cells/cellText.ts"
import { DayEditor } from "./editor.ts"
import { type EditedRows, howAdded, putUnreadCell, runEdits } from "./editRun.ts"

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
  const { told, cells } = runEdits(new StintRows(editor, context), edits)
  const added = editor.day.stints.flatMap(({ id }, i) => (id?.startsWith(newRow) === true ? [i] : []))
  const stints = editor.day.stints.map((stint) =>
    stint.id?.startsWith(newRow) === true ? { ...stint, id: null } : stint,
  )
  const stops = withTimes(day, { ...editor.day, stints })
  return {
    day: { ...editor.day, stints, stops },
    added,
    told,
    how: howAdded(edits),
    cells,
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

/** The rows of a day's sheet: its stints. */
class StintRows implements EditedRows<SheetColumn> {
  readonly columns = sheetColumns
  readonly #editor: DayEditor
  readonly #context: TapeContext
  #made = 0

  constructor(editor: DayEditor, context: TapeContext) {
    this.#editor = editor
    this.#context = context
  }

  get ids(): readonly string[] {
    return this.#editor.day.stints.map(({ id }) => id ?? "")
  }

  text(row: string, column: SheetColumn): string {
    return cellText(this.#editor.day, this.#at(row), column, this.#context)
  }

  set(row: string, column: SheetColumn, text: string): void {
    this.#editor.set(this.#at(row), column, text)
  }

  unread(row: string, column: SheetColumn): string | null {
    const at = this.#at(row)
    return this.#editor.day.unread.find(({ stint, place }) => stint === at && place === column)?.text ?? null
  }

  keep(row: string, column: SheetColumn, text: string | null): void {
    const at = this.#at(row)
    putUnreadCell(this.#editor.day, at, column, text)
  }

  insert(at: number, cells: Partial<Record<SheetColumn, string>>): string {
    this.#editor.insert(at)
    const id = `${newRow}${++this.#made}`
    const stint = this.#editor.day.stints[at]
    if (stint !== undefined) stint.id = id
    // A row that says its start has none from above: one that ended before stays ended.
    if (stint !== undefined && (cells.start ?? "") !== "") stint.start_at = null
    return id
  }

  remove(row: string): void {
    this.#editor.remove(this.#at(row))
  }

  #at(row: string): number {
    return this.#editor.day.stints.findIndex(({ id }) => id === row)
  }
}
