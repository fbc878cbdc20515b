import type { SheetColumn } from "../../shared/sheet.ts"
import { type TapeContext, usualRods } from "../tape/context.ts"
import { readReason } from "../tape/more.ts"
import { named } from "../tape/names.ts"
import { part, type Piece } from "../tape/piece.ts"
import { readRods } from "../tape/presentation.ts"
import type { TapeDay } from "../tape/reader.ts"
import { readCame } from "./cells/cameCell.ts"
import { setEnd } from "./cells/endCell.ts"
import { setMore } from "./cells/moreCell.ts"
import { setPresentation } from "./cells/presentationCell.ts"
import { setReadings } from "./cells/readingsCell.ts"
import { DayRows } from "./rows.ts"
import { checkTimes } from "./rowTimes.ts"
import { setSpot } from "./cells/spotCell.ts"
import { setStart } from "./cells/startCell.ts"

/**
 * A day being edited cell by cell, its cells read by the tape's own readers. Rows are its stints in order; an empty cell says
 * what the row above says. A change that would contradict another cell throws Unreadable and changes nothing.
 */
export class DayEditor {
  readonly #rows: DayRows

  constructor(day: TapeDay, context: TapeContext) {
    this.#rows = new DayRows(day, context)
  }

  /** The day so far. */
  get day(): TapeDay {
    return this.#rows.day
  }

  /** Puts a typed text into a cell. Throws Unreadable. */
  set(at: number, column: SheetColumn, text: string): void {
    const before = structuredClone(this.day)
    try {
      this.#set(at, column, { text: text.trim(), at: text.length - text.trimStart().length })
      checkTimes(this.#rows, at)
    } catch (error) {
      Object.assign(this.day, before)
      throw error
    }
  }

  /** Makes a row at a place: who, where and with what as the row above. */
  insert(at: number): void {
    this.#rows.insert(at)
  }

  /** Takes out a row. */
  remove(at: number): void {
    this.#rows.remove(at)
  }

  #set(at: number, column: SheetColumn, piece: Piece): void {
    const rows = this.#rows
    const stint = rows.row(at)
    switch (column) {
      case "who":
        return this.#setWho(at, this.#who(at, piece))
      case "start":
        return setStart(rows, at, piece)
      case "end":
        return setEnd(rows, at, piece)
      case "spot":
        return setSpot(rows, at, piece)
      case "presentation":
        return setPresentation(rows, at, piece)
      case "rods":
        stint.rods = piece.text === "" ? usualRods(stint.angler_id, rows.context) : readRods(piece)
        return
      case "came":
        Object.assign(stint, readCame(rows.context, piece, stint.start_at))
        return
      case "readings":
        return setReadings(rows, at, piece)
      case "why":
        stint.why_changed =
          piece.text === "" ? null : readReason(piece.text.startsWith("!") ? part(piece, 1) : piece)
        return
      case "notes":
        stint.notes = piece.text === "" ? null : piece.text
        return
      case "more":
        return setMore(rows, at, piece)
    }
  }

  /** Whose row it is; with as many rods as are usual for him, where it had those usual before. */
  #setWho(at: number, angler_id: string | null): void {
    const stint = this.#rows.row(at)
    const { context } = this.#rows
    if (stint.rods === usualRods(stint.angler_id, context)) stint.rods = usualRods(angler_id, context)
    stint.angler_id = angler_id
  }

  #who(at: number, piece: Piece): string | null {
    if (piece.text === "") return this.day.stints[at - 1]?.angler_id ?? this.#rows.context.first_angler
    const code = piece.text.endsWith(">") ? part(piece, 0, piece.text.length - 1) : piece
    return code.text.toLowerCase() === "all" ? null : named(code, ["angler"], this.#rows.context.names).id
  }
}
