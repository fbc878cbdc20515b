import type { Refusal } from "../draft.ts"
import { type Moment, type OrderProof, readMoment } from "./dates.ts"
import { readFormulaText } from "../formula.ts"
import type { Column, Layout } from "./layout.ts"
import type { Read } from "./quantity.ts"
import type { TableRecord } from "./table.ts"
import type { Target } from "./targets.ts"

/** What the whole of a table shows about how to read each of its cells. */
export type Habits = { readonly order: OrderProof; readonly decimalComma: boolean; readonly thisYear: number }

/** A column's text in a record: its cell, or its cells joined by spaces. */
export const textOfColumn = (column: Column, cells: readonly string[]): string =>
  column.cells.length === 1
    ? readFormulaText(cells[column.cells[0] ?? 0] ?? "")
    : column.cells
        .map((cell) => readFormulaText(cells[cell] ?? "").trim())
        .filter((text) => text !== "")
        .join(" ")

/** The cells of one record, and everything that was wrong with them. */
export class RecordReader {
  readonly refusals: Refusal[] = []
  readonly #layout: Layout
  readonly #record: TableRecord

  constructor(layout: Layout, record: TableRecord) {
    this.#layout = layout
    this.#record = record
  }

  /** Notes what is wrong with a column's cell, or with the whole record. */
  refuse(column: Column | null, reason: string): void {
    const text = column === null ? "" : textOfColumn(column, this.#record.cells)
    this.refusals.push({
      file: this.#layout.table.name,
      line: this.#record.line,
      column: column?.header ?? null,
      value: text === "" ? null : text,
      reason,
    })
  }

  /** Reads a column's text with `how`; null where it is empty or refused. */
  take<T>(column: Column, how: (text: string) => Read<T>): T | null {
    const text = textOfColumn(column, this.#record.cells)
    if (text.trim() === "") return null
    const found = how(text)
    if (found.kind === "read") return found.value
    this.refuse(column, found.reason)
    return null
  }

  moment(column: Column, target: Target & { kind: "moment" }, habits: Habits): Moment | null {
    const order = target.order === null ? habits.order : { order: target.order, proof: null }
    return this.take(column, (text) => {
      const found = readMoment(text, order, habits.thisYear)
      return found.kind === "read"
        ? found
        : { kind: "refused", reason: found.reason.replaceAll("<column>", column.header) }
    })
  }

  /** Refuses a record whose quotes are broken or that has cells beyond its header; true where it may be read. */
  isWhole(): boolean {
    const { broken, cells, line } = this.#record
    const { headers } = this.#layout
    if (broken !== null) {
      const column = this.#layout.columns.find(
        (one) => one.cells.length === 1 && one.cells[0] === broken.cell,
      )
      const file = this.#layout.table.name
      const header = column?.header ?? headers[broken.cell]?.trim() ?? null
      this.refusals.push({ file, line, column: header, value: null, reason: broken.reason })
      return false
    }
    const filled = cells.findLastIndex((cell) => cell.trim() !== "") + 1
    if (filled <= headers.length) return true
    this.refuse(null, `${cells.length} cells where the header has ${headers.length}`)
    return false
  }
}
