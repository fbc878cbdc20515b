import type { DayStint, DayStrike } from "../../../shared/day.ts"
import { type FishColumn, fishColumns } from "../../../shared/fishList.ts"
import { strikeOf } from "../../tape/strikes.ts"
import type { TapeContext } from "../../tape/context.ts"
import type { Piece } from "../../tape/piece.ts"
import type { TapeDay } from "../../tape/reader.ts"
import { type EditedRows, putUnreadCell } from "../editRun.ts"
import { readFate, setStrikeCell, strikeText } from "./fishCells.ts"
import { choosesStint, clockOf, stintAt, stintText } from "./fishStint.ts"
import { strikeOfPlace, strikePlace } from "../strikePlace.ts"

/** The strikes of a day as rows to edit, in the order of its stints; each belongs to one of them. */
export class FishRows implements EditedRows<FishColumn> {
  readonly columns = fishColumns
  readonly day: TapeDay
  readonly #context: TapeContext
  #made = 0
  removed = 0

  constructor(day: TapeDay, context: TapeContext) {
    this.day = structuredClone(day)
    this.#context = context
  }

  get ids(): readonly string[] {
    return this.day.stints.flatMap(({ strikes }) => strikes.map(({ id }) => id ?? ""))
  }

  /** Ids of the rows that were made here, in order; the store gives them others. */
  get made(): readonly string[] {
    return this.ids.filter((id) => id.startsWith(newStrike))
  }

  text(row: string, column: FishColumn): string {
    const { stint, strike } = this.#find(row)
    return column === "stint"
      ? stintText(this.day.stints, stint, this.#context)
      : strikeText(strike, column, this.#context)
  }

  set(row: string, column: FishColumn, text: string): void {
    const { stint, strike } = this.#find(row)
    const piece: Piece = { text: text.trim(), at: text.length - text.trimStart().length }
    if (column === "at") {
      const { stints } = this.day
      const read = piece.text === "" ? { at: null, stint } : clockOf(piece, stints, stint, this.#context)
      strike.at = read.at
      this.#move(row, read.stint)
    } else if (column === "stint") {
      if (piece.text !== "") this.#move(row, choosesStint(piece, this.day.stints, strike.at, this.#context))
    } else setStrikeCell(strike, column, piece, this.#context)
  }

  unread(row: string, column: FishColumn): string | null {
    const place = strikePlace(row, column)
    return this.day.unread.find((line) => line.place === place)?.text ?? null
  }

  keep(row: string, column: FishColumn, text: string | null): void {
    putUnreadCell(this.day, this.#find(row).stint, strikePlace(row, column), text)
  }

  /** A new strike goes to the stint that is named, else to the one fished at its time, else to that of the row above. */
  insert(at: number, cells: Partial<Record<FishColumn, string>>): string | { readonly why: string } {
    const above = this.ids[at - 1]
    const last = this.day.stints.length - 1
    if (last < 0)
      return { why: "There is no stint yet that a fish could belong to: type the day's stints first." }
    const beside = above === undefined ? last : this.#find(above).stint
    const stint = stintAt(cells, this.day.stints, beside, this.#context)
    const id = `${newStrike}${++this.#made}`
    // What is named without a fate was landed, as on the tape; of a fate that cannot be read nothing more is known.
    const strike = { ...strikeOf(readFate(cells.fate ?? "") ?? "struck"), id }
    const { strikes } = this.#stint(stint)
    const place = above === undefined ? -1 : strikes.findIndex((one) => one.id === above)
    strikes.splice(place < 0 ? strikes.length : place + 1, 0, strike)
    return id
  }

  remove(row: string): void {
    const { stint } = this.#find(row)
    const { strikes } = this.#stint(stint)
    strikes.splice(
      strikes.findIndex(({ id }) => id === row),
      1,
    )
    this.removed += 1
  }

  #stint(at: number): DayStint {
    const stint = this.day.stints[at]
    if (stint === undefined) throw new Error(`no stint ${at}`)
    return stint
  }

  #find(row: string): { stint: number; strike: DayStrike } {
    for (const [stint, { strikes }] of this.day.stints.entries()) {
      const strike = strikes.find(({ id }) => id === row)
      if (strike !== undefined) return { stint, strike }
    }
    throw new Error(`no strike ${row}`)
  }

  /** Into another stint, behind its other strikes. */
  #move(row: string, to: number): void {
    const { stint, strike } = this.#find(row)
    if (stint === to) return
    const { strikes } = this.#stint(stint)
    strikes.splice(strikes.indexOf(strike), 1)
    this.#stint(to).strikes.push(strike)
    for (const line of this.day.unread) if (strikeOfPlace(line.place) === row) line.stint = to
  }
}

const newStrike = "new strike "
