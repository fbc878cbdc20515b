import type { DayStint } from "../../shared/day.ts"
import type { TapeContext } from "../tape/context.ts"
import type { TapeDay } from "../tape/reader.ts"
import { presentedAs, emptyStint } from "./newStint.ts"
import { addStop, tidyStops } from "./stops.ts"

/** The rows of a day that is edited: its stints in order, each by its place. */
export class DayRows {
  readonly day: TapeDay
  readonly context: TapeContext

  constructor(day: TapeDay, context: TapeContext) {
    this.day = structuredClone(day)
    this.context = context
  }

  /** The stint of a row, by its place in the day. */
  row(at: number): DayStint {
    const stint = this.day.stints[at]
    if (stint === undefined) throw new Error(`no row ${at}`)
    return stint
  }

  /** The nearest row above or below of the same angler that is on another line. */
  beside(at: number, step: 1 | -1): number | null {
    const { angler_id } = this.row(at)
    const mates = new Set(this.mates(at))
    for (let i = at + step; i >= 0 && i < this.day.stints.length; i += step)
      if (this.day.stints[i]?.angler_id === angler_id && !mates.has(i)) return i
    return null
  }

  /** The rows that share this one's clock: of one effort, or two rods at once. */
  mates(at: number): number[] {
    const { angler_id, start_at, end_at, share_group } = this.row(at)
    return this.day.stints.flatMap((other, i) => {
      const shares = share_group !== null && other.share_group === share_group
      const together =
        start_at !== null &&
        other.angler_id === angler_id &&
        other.start_at === start_at &&
        other.end_at === end_at
      return i === at || shares || together ? [i] : []
    })
  }

  /** Makes a row at a place: who, where and with what as the row above. */
  insert(at: number): void {
    const above = this.day.stints[at - 1]
    const below = this.day.stints[at]
    const stop = above?.stop ?? below?.stop ?? addStop(this.day, this.context.first_spot)
    for (const line of this.day.unread) if ((line.stint ?? -1) >= at) line.stint = (line.stint ?? 0) + 1
    for (const reading of this.day.readings)
      if (reading.stint !== null && reading.stint >= at) reading.stint += 1
    this.day.stints.splice(at, 0, {
      ...emptyStint,
      angler_id: above === undefined ? this.context.first_angler : above.angler_id,
      stop,
      ...(above === undefined ? {} : presentedAs(above)),
      rods: above?.rods ?? 1,
      start_at: above?.end_at ?? null,
      effort_source: above?.end_at == null ? null : "clocked",
      strikes: [],
    })
    const row = this.day.stints[at]
    if (row !== undefined && row.start_at !== null && below?.start_at === row.start_at) {
      row.start_at = null
      row.effort_source = null
    }
  }

  /** Takes out a row, with the readings that are of it alone and what was typed in it and not read. */
  remove(at: number): void {
    const [gone] = this.day.stints.splice(at, 1)
    this.day.readings.splice(
      0,
      this.day.readings.length,
      ...this.day.readings.filter(({ stint }) => stint !== at),
    )
    for (const reading of this.day.readings)
      if (reading.stint !== null && reading.stint > at) reading.stint -= 1
    this.day.unread.splice(0, this.day.unread.length, ...this.day.unread.filter(({ stint }) => stint !== at))
    for (const line of this.day.unread) if (line.stint !== null && line.stint > at) line.stint -= 1
    if (gone !== undefined) tidyStops(this.day)
  }
}
