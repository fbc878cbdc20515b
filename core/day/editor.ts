import type { DayReading, DayStint } from "../../shared/day.ts"
import type { SheetColumn } from "../../shared/sheet.ts"
import { settled } from "../tape/amount.ts"
import {
  type ClockText,
  clockWords,
  instantAfter,
  instantNear,
  minutesText,
  readClock,
  readMinutes,
} from "../tape/clock.ts"
import type { TapeContext } from "../tape/context.ts"
import { nothingMore, readMore, readReason } from "../tape/more.ts"
import { named } from "../tape/names.ts"
import { type OpeningClock, readOpening } from "../tape/opening.ts"
import { part, type Piece, splitAt, tokens, Unreadable } from "../tape/piece.ts"
import { type Part, readPart, readRods } from "../tape/presentation.ts"
import { readReading } from "../tape/readings.ts"
import type { TapeDay } from "../tape/reader.ts"
import { isSameStop, readPlace } from "../tape/stop.ts"
import { type Came, type CameContext, nothingCame, readCameToken, readLetters } from "../tape/strikes.ts"
import { isLetters } from "../tape/strip.ts"
import { readingsOfRow } from "./cellText.ts"

const minuteMs = 60_000

/**
 * A day being edited cell by cell, its cells read by the tape's own readers. Rows are its stints in order; an empty cell says
 * what the row above says. A change that would contradict another cell throws Unreadable and changes nothing.
 */
export class DayEditor {
  readonly day: TapeDay
  readonly #context: TapeContext

  constructor(day: TapeDay, context: TapeContext) {
    this.day = structuredClone(day)
    this.#context = context
  }

  /** Puts a typed text into a cell. Throws Unreadable. */
  set(at: number, column: SheetColumn, text: string): void {
    const before = structuredClone(this.day)
    try {
      this.#set(at, column, { text: text.trim(), at: text.length - text.trimStart().length })
      this.#check(at)
    } catch (error) {
      Object.assign(this.day, before)
      throw error
    }
  }

  /** Makes a row at a place: who, where and with what as the row above. */
  insert(at: number): void {
    const above = this.day.stints[at - 1]
    const below = this.day.stints[at]
    const stop = above?.stop ?? below?.stop ?? this.#newStop(this.#context.first_spot)
    for (const line of this.day.unread) if ((line.stint ?? -1) >= at) line.stint = (line.stint ?? 0) + 1
    for (const reading of this.day.readings)
      if (reading.stint !== null && reading.stint >= at) reading.stint += 1
    this.day.stints.splice(at, 0, {
      ...emptyStint,
      angler_id: above === undefined ? this.#context.first_angler : above.angler_id,
      stop,
      ...(above === undefined ? {} : cadenceOf(above)),
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
    if (gone !== undefined) this.#tidyStops()
  }

  #set(at: number, column: SheetColumn, piece: Piece): void {
    const stint = this.#row(at)
    switch (column) {
      case "who":
        stint.angler_id = this.#who(at, piece)
        return
      case "start":
        return this.#setStart(at, piece)
      case "end":
        return this.#setEnd(at, piece)
      case "spot":
        return this.#setSpot(at, piece)
      case "presentation":
        return this.#setPresentation(at, piece)
      case "rods":
        stint.rods = piece.text === "" ? 1 : readRods(piece)
        return
      case "came":
        Object.assign(stint, this.#came(piece, stint.start_at))
        return
      case "readings":
        return this.#setReadings(at, piece)
      case "why":
        stint.why_changed =
          piece.text === "" ? null : readReason(piece.text.startsWith("!") ? part(piece, 1) : piece)
        return
      case "notes":
        stint.notes = piece.text === "" ? null : piece.text
        return
      case "more":
        return this.#setMore(at, piece)
    }
  }

  #row(at: number): DayStint {
    const stint = this.day.stints[at]
    if (stint === undefined) throw new Error(`no row ${at}`)
    return stint
  }

  #who(at: number, piece: Piece): string | null {
    if (piece.text === "") return this.day.stints[at - 1]?.angler_id ?? this.#context.first_angler
    const code = piece.text.endsWith(">") ? part(piece, 0, piece.text.length - 1) : piece
    return code.text.toLowerCase() === "all" ? null : named(code, ["angler"], this.#context.names).id
  }

  /** The nearest row above or below of the same angler that is on another line. */
  #beside(at: number, step: 1 | -1): number | null {
    const { angler_id } = this.#row(at)
    const mates = new Set(this.#mates(at))
    for (let i = at + step; i >= 0 && i < this.day.stints.length; i += step)
      if (this.day.stints[i]?.angler_id === angler_id && !mates.has(i)) return i
    return null
  }

  /** The rows that share this one's clock: of one effort, or two rods at once. */
  #mates(at: number): number[] {
    const { angler_id, start_at, end_at, share_group } = this.#row(at)
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

  #setStart(at: number, piece: Piece): void {
    const row = this.#row(at)
    const above = this.#beside(at, -1)
    const before = above === null ? null : this.#row(above)
    const opening =
      piece.text === "" ? null : piece.text === "?" ? ({ kind: "unknown" } as const) : readOpening(piece)
    if (piece.text !== "" && opening === null)
      throw new Unreadable(
        piece,
        `"${piece.text}" is no time: 640, 6:40a, +35 (minutes after the last), 45m or ?.`,
      )
    const mates = this.#mates(at)
    const old = row.start_at
    const each = (change: (stint: DayStint) => void): void => {
      for (const mate of mates) change(this.#row(mate))
    }
    if (opening === null || opening.kind === "unknown") {
      const start = opening === null ? (before?.end_at ?? null) : null
      each((stint) => this.#timed(stint, start, stint.end_at, null))
      return
    }
    if (opening.kind === "minutes") {
      each((stint) => {
        this.#timed(stint, null, null, null)
        stint.effort_minutes = opening.minutes / (stint.share_group === null ? 1 : mates.length)
        stint.effort_source = stint.share_group === null ? "given" : "shared"
      })
      return
    }
    const clockOf = (said: OpeningClock): number | null =>
      said === null ? null : this.#startInstant(at, said.piece, said.clock, before)
    const last = before?.end_at ?? before?.start_at ?? null
    if (opening.kind === "after" && last === null)
      throw new Unreadable(piece, "There is no clock above from which to count the minutes.")
    const start =
      opening.kind === "after"
        ? (last ?? 0) + opening.minutes * minuteMs
        : clockOf(opening.kind === "range" ? opening.from : opening)
    const end =
      opening.kind === "range" && opening.to !== null
        ? instantAfter(opening.to.piece, opening.to.clock, start, this.#context.place)
        : row.end_at
    const freed = before?.end_at ?? null
    if (start !== null && before !== null && before.start_at !== null)
      this.#closeAbove(piece, above ?? -1, start, old)
    const taken =
      end === null && old === null && freed !== null && start !== null && freed > start ? freed : end
    each((stint) => this.#timed(stint, start, taken, opening.about ? 1 : null))
  }

  #startInstant(at: number, piece: Piece, clock: ClockText, before: DayStint | null): number {
    const { place } = this.#context
    if (before?.start_at != null) return instantAfter(piece, clock, before.start_at, place)
    const others = this.day.stints.filter((stint, i) => i !== at && stint.start_at !== null)
    const near = this.day.stints[at]?.start_at ?? others[0]?.start_at ?? null
    return near === null ? instantAfter(piece, clock, null, place) : instantNear(piece, clock, near, place)
  }

  /** The row above ends where this one begins, if it ended there before, or its end was not known. */
  #closeAbove(piece: Piece, above: number, start: number, old: number | null): void {
    const before = this.#row(above)
    const follows = before.end_at === null || before.end_at === old || (old === null && before.end_at > start)
    if (!follows) return
    if (before.start_at !== null && start <= before.start_at)
      throw new Unreadable(
        piece,
        `The row above begins at ${clockWords(before.start_at, this.#context.place.zone)}: it would have no time.`,
      )
    for (const mate of this.#mates(above)) {
      const stint = this.#row(mate)
      this.#timed(stint, stint.start_at, start, stint.start_about)
    }
  }

  #setEnd(at: number, piece: Piece): void {
    const row = this.#row(at)
    const mates = this.#mates(at)
    const [clockToken, ...rest] = tokens(piece)
    const pause = rest.length === 1 && rest[0] !== undefined ? readMore(rest[0], this.#context.reader) : null
    if (rest.length > 0 && pause?.break_minutes == null)
      throw new Unreadable(rest[0] ?? piece, "Behind the end only a rest may stand, -10m.")
    const token = clockToken ?? piece
    const end = this.#endInstant(at, token)
    for (const mate of mates) {
      const stint = this.#row(mate)
      if (typeof end === "object" && end !== null) {
        stint.effort_minutes = end.minutes / (stint.share_group === null ? 1 : mates.length)
        stint.effort_source = stint.share_group === null ? "given" : "shared"
        continue
      }
      if (pause?.break_minutes != null) stint.break_minutes = pause.break_minutes
      this.#timed(stint, row.start_at, end, row.start_about)
    }
  }

  #endInstant(at: number, piece: Piece): number | null | { readonly minutes: number } {
    const { start_at: start } = this.#row(at)
    if (piece.text === "?") return null
    if (piece.text === "") {
      const below = this.#beside(at, 1)
      return below === null ? null : this.#row(below).start_at
    }
    const later = piece.text.startsWith("+") ? piece.text.slice(1) : piece.text
    const bare = piece.text.startsWith("+") && /^\d+$/.test(later) ? Number(later) : null
    const minutes = bare ?? readMinutes(later)
    if (minutes !== null && minutes > 0) return start === null ? { minutes } : start + minutes * minuteMs
    const typed = /.x$/i.test(piece.text) ? part(piece, 0, piece.text.length - 1) : piece
    const clock = readClock(typed.text)
    if (clock === null)
      throw new Unreadable(piece, `"${piece.text}" is no end: a clock (705), minutes (45m or +45) or ?.`)
    const end = instantAfter(typed, clock, start, this.#context.place)
    if (start !== null && end <= start) throw new Unreadable(piece, "The end is not after the start.")
    return end
  }

  /** Gives a stint its clocks; the parts of a shared effort stay even where they were. */
  #timed(stint: DayStint, start: number | null, end: number | null, about: 0 | 1 | null): void {
    const group = stint.share_group
    const mates = this.day.stints.filter(({ share_group }) => group !== null && share_group === group)
    const even = mates.every(({ effort_minutes }) => effort_minutes === mates[0]?.effort_minutes)
    stint.start_at = start
    stint.end_at = end
    stint.start_about = about
    if (group !== null) {
      if (even && start !== null)
        stint.effort_minutes =
          end === null
            ? null
            : settled(((end - start) / minuteMs - (stint.break_minutes ?? 0)) / mates.length)
      return
    }
    if (stint.effort_source === "given" && (start !== null || end !== null)) stint.effort_minutes = null
    if (stint.effort_source !== "ticked") stint.effort_source = start === null ? null : "clocked"
  }

  /** A spot is a whole stop's: the rows below that are at the same stop go with this one. */
  #setSpot(at: number, piece: Piece): void {
    const row = this.#row(at)
    const old = row.stop
    const above = this.day.stints[at - 1]
    if (piece.text === "") {
      if (above !== undefined) this.#moveOn(at, old, above.stop)
      return
    }
    const place = readPlace(piece, this.#context.names)
    const isFirst = this.day.stints.findIndex(({ stop }) => stop === old) === at
    const own = this.day.stops[old]
    const candidates = [above?.stop, ...(isFirst ? [] : [old]), this.#overlapping(at)]
    const known = place.again
      ? undefined
      : candidates.find((index) => {
          const stop = index === undefined ? undefined : this.day.stops[index]
          return stop !== undefined && isSameStop(stop, place)
        })
    if (isFirst && own !== undefined && known === undefined) {
      Object.assign(own, { spot_id: place.spot_id }, place.says)
      return
    }
    const target = known ?? this.#newStop(place.spot_id)
    const stop = this.day.stops[target]
    if (stop !== undefined) Object.assign(stop, place.says)
    this.#moveOn(at, old, target)
  }

  /** The stop of another lane's row at the same time. */
  #overlapping(at: number): number | undefined {
    const { start_at } = this.#row(at)
    return this.day.stints.find(
      (other, i) =>
        i !== at &&
        start_at !== null &&
        other.start_at !== null &&
        other.start_at <= start_at &&
        (other.end_at ?? Infinity) > start_at,
    )?.stop
  }

  #moveOn(at: number, from: number, to: number): void {
    for (let i = at; i < this.day.stints.length; i++) {
      const stint = this.day.stints[i]
      if (stint === undefined || stint.stop !== from) break
      stint.stop = to
      for (const reading of this.day.readings)
        if (reading.stop === from && reading.at !== null && reading.at === stint.start_at) reading.stop = to
    }
    this.#tidyStops()
  }

  #newStop(spot_id: string | null): number {
    return (
      this.day.stops.push({
        id: null,
        spot_id,
        label: null,
        start_at: null,
        end_at: null,
        platform: null,
        ground: null,
        structure: null,
        why_left: null,
      }) - 1
    )
  }

  /** Takes out stops that nothing is at any more. */
  #tidyStops(): void {
    const used = new Set([
      ...this.day.stints.map(({ stop }) => stop),
      ...this.day.readings.flatMap(({ stop }) => stop ?? []),
    ])
    const kept = this.day.stops.flatMap((_, i) => (used.has(i) ? [i] : []))
    const place = new Map(kept.map((stop, i) => [stop, i]))
    this.day.stops.splice(0, this.day.stops.length, ...kept.flatMap((i) => this.day.stops[i] ?? []))
    for (const stint of this.day.stints) stint.stop = place.get(stint.stop) ?? 0
    for (const reading of this.day.readings)
      reading.stop = reading.stop === null ? null : (place.get(reading.stop) ?? null)
  }

  /** One presentation, or several with + or | between, each a row; a plus or bar at its head joins the row above. */
  #setPresentation(at: number, piece: Piece): void {
    const row = this.#row(at)
    const above = this.day.stints[at - 1]
    if (piece.text === "") {
      if (above !== undefined) Object.assign(row, cadenceOf(above))
      return
    }
    if (piece.text === "?") {
      Object.assign(row, { ...cadenceOf(emptyStint), presentation_id: null })
      return
    }
    const joins = /^[+|]/.exec(piece.text)?.[0] ?? null
    if (joins !== null && above === undefined)
      throw new Unreadable(part(piece, 0, 1), "There is no row above to share the time with.")
    const whole = joins === null ? piece : part(piece, 1)
    const parts = this.#parts(whole, row.start_at)
    const [first, ...more] = parts
    if (first === undefined) return
    this.#usePart(row, first.part)
    if (joins !== null && above !== undefined) this.#join(above, row, joins)
    else if (row.share_group !== null && parts.length === 1) this.#keepGroup(at)
    for (const [i, { part: one, joint }] of more.entries()) {
      this.insert(at + 1 + i)
      const next = this.#row(at + 1 + i)
      const [before] = this.day.stints.slice(at + i, at + i + 1)
      this.#usePart(next, { ...one })
      if (before !== undefined) this.#join(before, next, joint)
    }
  }

  #parts(piece: Piece, start: number | null): { part: Part; joint: string }[] {
    const context = this.#cameContext(start)
    const pieces = splitAt(piece, (letter) => letter === "+" || letter === "|")
    return pieces.map((item) => {
      const [head, ...rest] = tokens(item)
      if (head === undefined) throw new Unreadable(item, "Another presentation is wanted here.")
      const read = readPart(head, context)
      this.#cameTokens(rest, read.came, context)
      return { part: read, joint: piece.text[item.at - piece.at - 1] ?? "" }
    })
  }

  #usePart(row: DayStint, { presentation_id, cadence, rods, minutes, came }: Part): void {
    Object.assign(row, cadence, { presentation_id })
    if (rods !== 1) row.rods = rods
    if (minutes !== null) row.effort_minutes = minutes
    const said =
      came.strikes.length > 0 || [came.follows, came.hang_ups, came.lures_lost].some((n) => n !== null)
    if (said) Object.assign(row, came)
  }

  /** Gives a row the clock of the one above: in turn with it (+), or at once on another rod (|). */
  #join(above: DayStint, row: DayStint, joint: string): void {
    row.start_at = above.start_at
    row.end_at = above.end_at
    row.start_about = above.start_about
    row.break_minutes = above.break_minutes
    row.stop = above.stop
    row.angler_id = above.angler_id
    row.effort_source = above.effort_source
    if (joint !== "+") {
      row.share_group = null
      row.effort_minutes = null
      return
    }
    above.share_group ??= `new ${this.day.stints.indexOf(above)}`
    row.share_group = above.share_group
    this.#evenOut(above.share_group)
  }

  /** Shares a group's stretch evenly. */
  #evenOut(group: string): void {
    const mates = this.day.stints.filter(({ share_group }) => share_group === group)
    for (const mate of mates) {
      const { start_at, end_at } = mate
      mate.effort_source = "shared"
      mate.effort_minutes =
        start_at === null || end_at === null
          ? null
          : settled(((end_at - start_at) / minuteMs - (mate.break_minutes ?? 0)) / mates.length)
    }
  }

  /** A row that says its presentation without a plus leaves the group of the row above. */
  #keepGroup(at: number): void {
    const row = this.#row(at)
    const above = this.day.stints[at - 1]
    if (above?.share_group !== row.share_group || row.share_group === null) return
    const group = row.share_group
    Object.assign(row, {
      share_group: null,
      effort_minutes: null,
      effort_source: row.start_at === null ? null : "clocked",
    })
    const left = this.day.stints.filter(({ share_group }) => share_group === group)
    if (left.length > 1) this.#evenOut(group)
    else
      for (const one of left)
        Object.assign(one, {
          share_group: null,
          effort_minutes: null,
          effort_source: one.start_at === null ? null : "clocked",
        })
  }

  #cameContext(start: number | null): CameContext {
    const { names, reader, place } = this.#context
    return { names, reader, place, start }
  }

  #came(piece: Piece, start: number | null): Came {
    const came = nothingCame()
    this.#cameTokens(tokens(piece), came, this.#cameContext(start))
    return came
  }

  #cameTokens(words: readonly Piece[], came: Came, context: CameContext): void {
    const last: { species: string | null } = { species: null }
    for (const word of words) {
      if (/^\p{L}+$/u.test(word.text) && isLetters(word.text) && context.names.find(word.text) === null)
        readLetters(word, null, came, context)
      else if (!readCameToken(word, last, came, context)) {
        if (/^[a-z][a-z\d]*$/i.test(word.text) && isLetters(word.text.replaceAll(/\d/g, "")))
          readLetters(word, null, came, context)
        else named(word, ["species"], context.names)
      }
    }
  }

  #setReadings(at: number, piece: Piece): void {
    const stint = this.#row(at)
    const { reader, place } = this.#context
    const old = new Set(readingsOfRow(this.day, at))
    const items =
      piece.text === ""
        ? []
        : splitAt(piece, (letter) => letter === "@").filter(({ text }) => text.trim() !== "")
    const readings: DayReading[] = items.map((item) => {
      const words = tokens(item)
      const [first] = words
      const clock = first === undefined ? null : readClock(first.text)
      const untimed = first?.text === "?"
      const said = readReading(clock !== null || untimed ? words.slice(1) : words, reader)
      return {
        id: null,
        at:
          clock !== null && first !== undefined
            ? instantAfter(first, clock, stint.start_at, place)
            : untimed
              ? null
              : stint.start_at,
        stop: said.of === "trip" || said.of === "stint" ? null : stint.stop,
        stint: said.of === "stint" ? at : null,
        source: said.source,
        ...said.values,
      }
    })
    const kept = this.day.readings.filter((reading) => !old.has(reading))
    this.day.readings.splice(0, this.day.readings.length, ...kept, ...readings)
  }

  #setMore(at: number, piece: Piece): void {
    const { reader } = this.#context
    let more = nothingMore
    for (const token of tokens(piece)) {
      const read = readMore(token, reader)
      if (read === null)
        throw new Unreadable(
          token,
          `"${token.text}" cannot stand here: sight, ticked, depth=1, count=-m, fished=35m, -10m.`,
        )
      more = { ...more, ...read }
    }
    for (const mate of this.#mates(at)) {
      const stint = this.#row(mate)
      const own = mate === at
      stint.break_minutes = more.break_minutes
      if (stint.share_group !== null) {
        this.#timed(stint, stint.start_at, stint.end_at, stint.start_about)
        if (own && more.fished !== null) stint.effort_minutes = more.fished
      } else if (own && (stint.start_at !== null || stint.end_at !== null)) {
        stint.effort_minutes = more.fished
        stint.effort_source = more.ticked
          ? "ticked"
          : more.fished === null
            ? stint.start_at === null
              ? null
              : "clocked"
            : "given"
      }
      if (!own) continue
      const {
        sight,
        fished_depth_m,
        counted_misses,
        counted_losses,
        counted_follows,
        counted_hang_ups,
        counted_landed,
      } = more
      Object.assign(stint, {
        sight,
        fished_depth_m,
        counted_misses,
        counted_losses,
        counted_follows,
        counted_hang_ups,
        counted_landed,
      })
    }
  }

  /** Refuses times that contradict one another. */
  #check(at: number): void {
    for (const mate of this.#mates(at)) {
      const {
        start_at: start,
        end_at: end,
        break_minutes: pause,
        effort_minutes,
        share_group,
      } = this.#row(mate)
      if (start === null || end === null) continue
      const here = { text: "", at: 0 }
      const span = (end - start) / minuteMs
      if (span <= 0)
        throw new Unreadable(
          here,
          `The row would end at ${clockWords(end, this.#context.place.zone)}, not after its start.`,
        )
      if (span > 24 * 60) throw new Unreadable(here, "A row is no longer than a day.")
      const all =
        share_group === null ? [] : this.day.stints.filter((stint) => stint.share_group === share_group)
      const minutes =
        share_group === null
          ? (effort_minutes ?? 0)
          : all.reduce((sum, stint) => sum + (stint.effort_minutes ?? 0), 0)
      if ((pause ?? 0) >= span || minutes > span - (pause ?? 0) + 1e-3)
        throw new Unreadable(
          here,
          `The row would say more minutes than its ${minutesText(span)} have room for.`,
        )
    }
  }
}

const cadenceOf = (stint: DayStint): Partial<DayStint> => ({
  presentation_id: stint.presentation_id,
  actions_per_cycle: stint.actions_per_cycle,
  pause_s: stint.pause_s,
  pace: stint.pace,
  rhythm: stint.rhythm,
  line: stint.line,
  water_column: stint.water_column,
  bait: stint.bait,
})

const emptyStint: Omit<DayStint, "strikes"> & { strikes: [] } = {
  id: null,
  stop: 0,
  presentation_id: null,
  angler_id: null,
  start_at: null,
  end_at: null,
  effort_minutes: null,
  break_minutes: null,
  effort_source: null,
  share_group: null,
  rods: 1,
  sight: null,
  fished_depth_m: null,
  actions_per_cycle: null,
  pause_s: null,
  pace: null,
  rhythm: null,
  line: null,
  water_column: null,
  bait: null,
  counted_misses: null,
  counted_losses: null,
  counted_follows: null,
  counted_hang_ups: null,
  counted_landed: null,
  follows: null,
  hang_ups: null,
  lures_lost: null,
  why_changed: null,
  notes: null,
  start_about: null,
  strikes: [],
}
