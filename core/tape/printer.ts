import type { DayReading, DayStint } from "../../shared/day.ts"
import { settled } from "./amount.ts"
import { canonicalDay } from "./canonical.ts"
import { minutesText } from "./clock.ts"
import type { TapeContext } from "./context.ts"
import { tickMs } from "./draftStints.ts"
import type { Lane } from "./lanes.ts"
import { type More, moreTokens, reasonToken } from "./more.ts"
import { escaped } from "./piece.ts"
import { placedReadings } from "./placedReadings.ts"
import { linesOf, type PrintLine } from "./printLines.ts"
import { partsText } from "./printParts.ts"
import { type Printing, spotText, stopText } from "./printSpot.ts"
import { readingText } from "./readings.ts"
import { type TapeDay, TapeReader } from "./reader.ts"
import { type CameContext } from "./came.ts"
import { cameTokens } from "./printStrikes.ts"

/**
 * The tape of a day: read again with the same context it gives the same day (its canonical form). Every line is said as
 * shortly as what stands above it allows; the printer reads each line back as it goes, so that it knows what carries on.
 */
export const printTape = (day: TapeDay, context: TapeContext): string =>
  new Printer(canonicalDay(day), context).print()

class Printer {
  readonly #day: TapeDay
  readonly #context: TapeContext
  readonly #reader: TapeReader
  readonly #lines: PrintLine[]
  readonly #out: string[] = []
  #stopsNamed = 0

  constructor(day: TapeDay, context: TapeContext) {
    this.#day = day
    this.#context = context
    this.#reader = new TapeReader(context)
    this.#lines = linesOf(day, context)
  }

  print(): string {
    const readings = placedReadings(this.#day, this.#lines)
    for (const reading of readings.top) this.#say(this.#readingLine(reading, true))
    for (const [at, line] of this.#lines.entries()) {
      this.#unread(line.first)
      const [first] = line.stints
      if (first !== undefined) this.#emptyStops(first.stop)
      for (const reading of readings.before.get(at) ?? []) this.#say(this.#readingLine(reading, false))
      this.#say(line.kind === "strip" ? this.#strip(line) : this.#line(line, at))
      for (const reading of readings.after.get(at) ?? []) this.#say(this.#readingLine(reading, true))
    }
    this.#emptyStops(this.#day.stops.length)
    this.#unread(Infinity)
    return this.#out.join("\n")
  }

  #say(text: string): void {
    this.#out.push(text)
    this.#reader.readLine(text)
  }

  #unreadSaid = 0
  /** Lines that could not be read stand where they stood; they do nothing. */
  #unread(before: number): void {
    const lines = this.#day.unread.filter(({ place }) => place === "tape")
    while (this.#unreadSaid < lines.length) {
      const line = lines[this.#unreadSaid]
      if (line === undefined || line.position > before) return
      this.#out.push(line.text)
      this.#unreadSaid += 1
    }
  }

  /** Stops that were not fished stand on a line of their own. */
  #emptyStops(before: number): void {
    const fished = new Set(this.#day.stints.map(({ stop }) => stop))
    for (; this.#stopsNamed < before; this.#stopsNamed++) {
      const stop = this.#day.stops[this.#stopsNamed]
      if (stop === undefined || fished.has(this.#stopsNamed)) continue
      this.#say(
        stopText(this.#printing(), this.#lane(this.#context.first_angler), stop, this.#stopsNamed, null),
      )
      for (const reading of this.#day.readings)
        if (reading.stint === null && reading.stop === this.#stopsNamed)
          this.#say(this.#readingLine(reading, true))
    }
  }

  #lane(angler_id: string | null): Lane {
    return this.#reader.lanes.lane(angler_id)
  }

  #line({ stints }: PrintLine, at: number): string {
    const [first] = stints
    if (first === undefined) return ""
    const lane = this.#lane(first.angler_id)
    const place = this.#place(lane, first)
    const opening = this.#opening(lane, stints, at)
    const parts = partsText(lane, stints, this.#cameContext(first.start_at))
    const more = moreTokens(this.#more(stints), this.#context.reader)
    const note = first.notes === null ? "" : `; ${escaped(first.notes)}`
    return words([
      this.#prefix(first.angler_id),
      opening,
      place,
      parts,
      ...more,
      reasonToken(first.why_changed),
      note,
    ])
  }

  #prefix(angler_id: string | null): string {
    if (angler_id === this.#context.first_angler) return ""
    return angler_id === null ? "all>" : `${this.#context.names.textOf("angler", angler_id)}>`
  }

  /** The clock, clocks or minutes of a line. */
  #opening(lane: Lane, stints: readonly DayStint[], at: number): string {
    const [first] = stints
    const { lanes } = this.#reader
    if (first === undefined) return ""
    const { start_at: start, end_at: end } = first
    if (start === null) {
      if (end !== null) return `?-${lanes.text(lane, end)}`
      const minutes = stints.reduce<number | null>(
        (sum, { effort_minutes }) => (sum === null || effort_minutes === null ? null : sum + effort_minutes),
        0,
      )
      if (minutes === null) return "?"
      const rest = first.share_group === null ? 0 : (first.break_minutes ?? 0)
      return minutesText(settled(minutes + rest))
    }
    const about = first.start_about === 1 ? "~" : ""
    const clock = `${about}${lanes.text(lane, start)}`
    if (end === this.#closedBy(first, at)) return clock
    return end === null ? `${clock}-?` : `${clock}-${lanes.text(lane, end, start)}`
  }

  /**
   * When a line below ends this one, if it says no end: the start of the next one of its lane (null where that says none, NaN
   * where it cannot end it), or a later start of everybody's, or of anybody's where this one is everybody's.
   */
  #closedBy({ angler_id, start_at }: DayStint, at: number): number | null {
    for (const { stints } of this.#lines.slice(at + 1)) {
      const next = stints[0]
      if (next === undefined) continue
      const start = next.start_at
      const later = start !== null && start_at !== null && start > start_at
      if (next.angler_id === angler_id) return start === null || later ? start : Number.NaN
      if (later && (angler_id === null || next.angler_id === null)) return start
    }
    return null
  }

  #more(stints: readonly DayStint[]): More {
    const [first] = stints
    const split =
      first !== undefined &&
      first.share_group !== null &&
      stints.length < this.#day.stints.filter(({ share_group }) => share_group === first.share_group).length
    const shared = first?.share_group !== null
    const fished =
      first === undefined ||
      (shared && !split) ||
      (first.start_at === null && first.end_at === null && !split)
        ? null
        : first.effort_minutes
    return {
      break_minutes: first?.break_minutes ?? null,
      sight: first?.sight ?? null,
      fished_depth_m: first?.fished_depth_m ?? null,
      why_changed: null,
      notes: null,
      counted_misses: first?.counted_misses ?? null,
      counted_losses: first?.counted_losses ?? null,
      counted_follows: first?.counted_follows ?? null,
      counted_hang_ups: first?.counted_hang_ups ?? null,
      counted_landed: first?.counted_landed ?? null,
      ticked: first?.effort_source === "ticked",
      fished,
      group: split ? `g${first.share_group}` : null,
    }
  }

  #printing(): Printing {
    return { day: this.#day, context: this.#context, lanes: this.#reader.lanes }
  }

  /** The spot of a line; its stop counts as named. */
  #place(lane: Lane, stint: DayStint): string {
    const isNew = stint.stop >= this.#reader.lanes.stops.length
    if (isNew && this.#day.stops[stint.stop] !== undefined)
      this.#stopsNamed = Math.max(this.#stopsNamed, stint.stop + 1)
    return spotText(this.#printing(), lane, stint)
  }

  #cameContext(start: number | null): CameContext {
    const { names, reader } = this.#context
    return { names, reader, place: this.#reader.lanes.day, start }
  }

  #strip({ stints }: PrintLine): string {
    const [first] = stints
    const from = first?.start_at ?? null
    if (first === undefined || from === null) return ""
    const lane = this.#lane(first.angler_id)
    const place = this.#place(lane, first)
    const context = this.#cameContext(from)
    const ticks: { mark: string; came: string }[] = []
    for (const stint of stints) {
      const start = ((stint.start_at ?? from) - from) / tickMs
      const end = ((stint.end_at ?? from) - from) / tickMs
      while (ticks.length < start) ticks.push({ mark: "-", came: "" })
      const mark = this.#context.names.byId(stint.presentation_id ?? "")?.mark ?? ""
      const came = cameTokens(stint, context)
      const separated = came.map((token, i) => (i === 0 && token.startsWith(".") ? token.slice(1) : token))
      while (ticks.length < end) ticks.push({ mark, came: ticks.length === start ? separated.join(" ") : "" })
    }
    const tail = ticks
      .map(({ came }) => came)
      .join(",")
      .replace(/,+$/, "")
    return words([
      this.#prefix(first.angler_id),
      `${first.start_about === 1 ? "~" : ""}${this.#reader.lanes.text(lane, from)}`,
      place,
      `"${ticks.map(({ mark }) => mark).join("")}"${tail === "" ? "" : `.${tail}`}`,
    ])
  }

  #readingLine(reading: DayReading, timed: boolean): string {
    const of = reading.stint !== null ? "stint" : reading.stop === null ? "trip" : "stop"
    const text = readingText({ values: reading, source: reading.source, of }, this.#context.reader)
    if (!timed) return `@ ${text}`
    if (reading.at === null) return `@ ? ${text}`
    const { lanes } = this.#reader
    return `@ ${lanes.text(this.#lane(this.#context.first_angler), reading.at, lanes.lastClock)} ${text}`
  }
}

const words = (parts: readonly string[]): string => parts.filter((text) => text !== "").join(" ")
