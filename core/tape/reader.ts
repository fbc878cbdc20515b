import type { DayReading, DayStint, DayStop, DayUnread, Unclear } from "../../shared/day.ts"
import { readClock } from "./clock.ts"
import type { TapeContext } from "./context.ts"
import { carriedFrom, draftStints, draftStrip, tickMs } from "./draftStints.ts"
import { checkClosing, minuteMs, settleEffort } from "./effort.ts"
import { type Lane, Lanes } from "./lanes.ts"
import { type LineParts, noteOf, readLineParts } from "./lineParts.ts"
import { lineStart } from "./lineStart.ts"
import { named } from "./names.ts"
import { type Opening, type OpeningClock, readOpening } from "./opening.ts"
import { part, type Piece, tokens, Unreadable } from "./piece.ts"
import { readReading } from "./readings.ts"
import { isPlace, readPlace } from "./stop.ts"
import { saidStopTimes, setStopTimes } from "./stopTimes.ts"
import type { CameContext } from "./came.ts"
import { readStrip } from "./strip.ts"
import { Waiting } from "./waiting.ts"

/** What one line did: the stints it opened or went on with, the stretch it closed, and what of it is not clear. */
export type LineRead = {
  readonly text: string
  readonly kind: "nothing" | "stints" | "on" | "end" | "place" | "date" | "reading" | "unclear"
  /** Places in the day of its stints, or of its stop or reading. */
  readonly of: readonly number[]
  readonly at: number | null
  readonly unclear: Unclear | null
}

/** The body of a day as its tape tells it: all but the head. */
export type TapeDay = {
  readonly stops: DayStop[]
  readonly stints: DayStint[]
  readonly readings: DayReading[]
  readonly unread: DayUnread[]
}

/** Reads a tape line by line. What cannot be read becomes `unread` and stops nothing. */
export class TapeReader {
  readonly lanes: Lanes
  readonly #context: TapeContext
  readonly #stints: DayStint[] = []
  readonly #readings: DayReading[] = []
  readonly #unread: DayUnread[] = []
  readonly #waiting = new Waiting()
  #groups = 0

  constructor(context: TapeContext) {
    this.#context = context
    this.lanes = new Lanes(context)
  }

  get stints(): readonly DayStint[] {
    return this.#stints
  }

  /** Reads one line. Never throws on what a user may type. */
  readLine(text: string): LineRead {
    try {
      return { text, unclear: null, ...this.#read({ text, at: 0 }) }
    } catch (error) {
      if (!(error instanceof Unreadable)) throw error
      this.#unread.push({ id: null, stint: null, place: "tape", position: this.#stints.length, text })
      return { text, kind: "unclear", of: [], at: null, unclear: error.unclear }
    }
  }

  /** The day so far; readings that still wait for a clock get the last one. */
  finish(): TapeDay {
    this.#waiting.place(this.lanes.lastClock, this.lanes.latest, null)
    for (const text of this.#waiting.takeNoteLines())
      this.#unread.push({ id: null, stint: null, place: "tape", position: this.#stints.length, text })
    setStopTimes(this.lanes.stops, this.#stints)
    return { stops: this.lanes.stops, stints: this.#stints, readings: this.#readings, unread: this.#unread }
  }

  #read(line: Piece): Pick<LineRead, "kind" | "of" | "at"> {
    const all = tokens(line)
    const [first] = all
    if (first === undefined) return { kind: "nothing", of: [], at: null }
    const { lane, rest, everybody } = this.#laneOf(first, all)
    const [token, ...others] = rest
    if (token === undefined) throw new Unreadable(first, "A lane wants a clock, or minutes, behind it.")
    if (token.text.startsWith("@")) return this.#readReadings(token, others)
    if (/^\d{4}-\d{2}-\d{2}$/.test(token.text)) return this.#readDate(token, others)
    if (token.text.startsWith(";") && rest.length === 1) return this.#readNote(token, line.text)
    const opening = readOpening(token)
    if (opening !== null) return this.#open(lane, token, opening, others, everybody)
    if (isPlace(token, this.#context.names) && others.length === 0) return this.#namePlace(lane, token)
    return this.#goOn(lane, rest)
  }

  /** The lane of a line, `bow> 945 tw`, and its other tokens. */
  #laneOf(first: Piece, all: readonly Piece[]): { lane: Lane; rest: Piece[]; everybody: boolean } {
    const own = (): Lane => this.lanes.lane(this.#context.first_angler)
    const found = /^(\[(?:[^\]]|\]\])*\]|[\p{L}\d]+)>/u.exec(first.text)
    if (found === null) return { lane: own(), rest: [...all], everybody: true }
    const [prefix, code = ""] = found
    const angler =
      code.toLowerCase() === "all"
        ? null
        : named(part(first, 0, code.length), ["angler"], this.#context.names).id
    const after = part(first, prefix.length)
    const rest = [...(after.text === "" ? [] : [after]), ...all.slice(1)]
    return { lane: this.lanes.lane(angler), rest, everybody: false }
  }

  #readDate(token: Piece, others: readonly Piece[]): Pick<LineRead, "kind" | "of" | "at"> {
    const [more] = others
    if (more !== undefined) throw new Unreadable(more, "A date stands on a line of its own.")
    const date = new Date(`${token.text}T00:00:00Z`)
    if (Number.isNaN(date.getTime()) || date.toISOString().slice(0, 10) !== token.text)
      throw new Unreadable(token, `There is no ${token.text} in the calendar.`)
    this.lanes.turnTo(token.text)
    return { kind: "date", of: [], at: null }
  }

  #readNote(token: Piece, line: string): Pick<LineRead, "kind" | "of" | "at"> {
    this.#waiting.addNote(line, noteOf(token))
    return { kind: "nothing", of: [], at: null }
  }

  #readReadings(token: Piece, others: readonly Piece[]): Pick<LineRead, "kind" | "of" | "at"> {
    const after = part(token, 1)
    const words = after.text === "" ? [...others] : [after, ...others]
    const [first] = words
    const clock = first === undefined ? null : readClock(first.text)
    const untimed = first?.text === "?"
    const said = readReading(clock !== null || untimed ? words.slice(1) : words, this.#context.reader)
    const waits = clock === null && !untimed
    const at = clock === null || first === undefined ? null : this.#readingClock(first, clock)
    const stint = this.#stints.length - (waits ? 0 : 1)
    if (said.of === "stint" && stint < 0)
      throw new Unreadable(token, "There is no stint above that this could be a reading of.")
    const stop = said.of === "trip" || waits ? null : this.lanes.latest
    const reading: DayReading = {
      id: null,
      at,
      stop,
      stint: said.of === "stint" ? stint : null,
      source: said.source,
      ...said.values,
    }
    this.#readings.push(reading)
    if (waits) this.#waiting.addReading(reading, said.of)
    return { kind: "reading", of: [this.#readings.length - 1], at }
  }

  #readingClock(piece: Piece, clock: NonNullable<OpeningClock>["clock"]): number {
    const lane = { ...this.lanes.lane(this.#context.first_angler), last: this.lanes.lastClock }
    return this.lanes.instant(lane, piece, clock)
  }

  #namePlace(lane: Lane, token: Piece): Pick<LineRead, "kind" | "of" | "at"> {
    const place = readPlace(token, this.#context.names)
    const times = saidStopTimes(this.lanes, lane, place, null)
    const stop = this.lanes.goTo(lane, place, null)
    Object.assign(this.lanes.stops[stop] ?? {}, times)
    return { kind: "place", of: [stop], at: null }
  }

  #open(
    lane: Lane,
    token: Piece,
    opening: Opening,
    others: readonly Piece[],
    everybody: boolean,
  ): Pick<LineRead, "kind" | "of" | "at"> {
    const start = lineStart(this.lanes, lane, opening)
    if ((opening.kind === "clock" || opening.kind === "after") && opening.closes)
      return this.#close(lane, token, start.at, others, everybody)
    const meant =
      start.at === null ? [] : this.lanes.meant(lane).filter((other) => this.#ranBefore(other, start.at))
    if (start.at !== null)
      for (const one of [lane, ...meant])
        checkClosing(one, token, start.at, this.#stints, this.lanes.day.zone)
    try {
      const parts = readLineParts(others, start.at, this.lanes.day, this.#context)
      if (parts.strip !== null) {
        const read = this.#openStrip(lane, token, start, opening, parts)
        for (const one of meant) this.#closeOpen(one, start.at)
        return read
      }
      const end = start.end ?? this.#endBy(parts, start.at)
      const drafts = draftStints(lane, token, opening, parts, { ...start, end }, this.#groups)
      for (const one of [lane, ...meant]) this.#closeOpen(one, start.at)
      return this.#add(lane, parts, drafts, start.at, end === null && start.open)
    } catch (error) {
      // The clock is clear, whatever follows it: the stint above ends there.
      if (error instanceof Unreadable && start.at !== null) {
        for (const one of [lane, ...meant]) this.#closeOpen(one, start.at)
        this.lanes.said(lane, start.at)
      }
      throw error
    }
  }

  #endBy({ minutes }: LineParts, start: number | null): number | null {
    return minutes === null || start === null ? null : start + minutes * minuteMs
  }

  /** Without a lane's name everybody stops. */
  #close(
    lane: Lane,
    token: Piece,
    at: number | null,
    others: readonly Piece[],
    everybody: boolean,
  ): Pick<LineRead, "kind" | "of" | "at"> {
    const [more] = others
    if (more !== undefined)
      throw new Unreadable(more, "After x nobody fishes until the next clock: nothing can stand behind it.")
    if (at === null) return { kind: "end", of: [], at }
    const beside = everybody ? this.lanes.others(lane) : this.lanes.meant(lane)
    const lanes = [lane, ...beside.filter((other) => this.#ranBefore(other, at))]
    for (const one of lanes) checkClosing(one, token, at, this.#stints, this.lanes.day.zone)
    const of = lanes.flatMap(({ open }) => open)
    for (const one of lanes) {
      this.#closeOpen(one, at)
      one.until = null
    }
    this.lanes.said(lane, at)
    return { kind: "end", of, at }
  }

  /** Whether all that runs in a lane was begun before an instant, so that it can end then. */
  #ranBefore({ open }: Lane, at: number | null): boolean {
    return at !== null && open.every((index) => (this.#stints[index]?.start_at ?? at) < at)
  }

  #closeOpen(lane: Lane, at: number | null): void {
    for (const index of lane.open) {
      const stint = this.#stints[index]
      if (stint !== undefined && at !== null) {
        stint.end_at = at
        settleEffort(stint, this.#stints)
      }
    }
    lane.open = []
  }

  #openStrip(
    lane: Lane,
    token: Piece,
    start: { at: number | null; about: boolean },
    opening: Opening,
    line: LineParts,
  ): Pick<LineRead, "kind" | "of" | "at"> {
    const { names, reader } = this.#context
    const from = start.at
    if (line.strip === null || from === null || opening.kind === "range")
      throw new Unreadable(token, "A ten-minute strip begins with one clock.")
    if (line.parts.length > 0 || line.minutes !== null)
      throw new Unreadable(line.strip.piece, "A strip says by its marks what is tied on: nothing else can.")
    const context: CameContext = { names, reader, place: this.lanes.day, start: from }
    const { runs, ticks } = readStrip(line.strip.piece, line.strip.more, names, context)
    const drafts = draftStrip(lane, token, opening, line, runs, { from, about: start.about }, this.#groups)
    this.#closeOpen(lane, from)
    const read = this.#add(lane, line, drafts, from, false)
    const lastRun = runs.at(-1)
    lane.carried = lane.carried.slice(-1)
    this.lanes.said(lane, from + (lastRun?.tick ?? 0) * tickMs)
    lane.until = from + ticks * tickMs
    return read
  }

  /** Puts a line's stints into the day. */
  #add(
    lane: Lane,
    line: LineParts,
    drafts: DayStint[],
    at: number | null,
    open: boolean,
  ): Pick<LineRead, "kind" | "of" | "at"> {
    const times = line.place === null ? {} : saidStopTimes(this.lanes, lane, line.place, at)
    const stop = this.lanes.goTo(lane, line.place, at)
    Object.assign(this.lanes.stops[stop] ?? {}, times)
    const first = this.#stints.length
    for (const [i, draft] of drafts.entries())
      this.#stints.push({
        ...draft,
        stop,
        notes: i === 0 ? this.#waiting.takeNotes(draft.notes) : draft.notes,
      })
    const of = drafts.map((_, i) => first + i)
    this.#groups += drafts.length
    lane.recent = of
    lane.open = open ? of : []
    lane.until = null
    lane.carried = carriedFrom(drafts)
    if (at !== null) this.lanes.said(lane, at)
    this.#waiting.place(at, stop, first)
    return { kind: "stints", of, at }
  }

  /** A line without a clock: more of what came of the last line's stint. */
  #goOn(lane: Lane, words: readonly Piece[]): Pick<LineRead, "kind" | "of" | "at"> {
    const [first = { text: "", at: 0 }] = words
    const begins =
      "A stint begins with a clock (620), minutes after the last (+25), minutes alone (45m) or ?."
    const index = lane.recent.at(-1)
    const stint = index === undefined ? undefined : this.#stints[index]
    if (index === undefined || stint === undefined) {
      const known = this.#context.names.find(first.text)
      throw new Unreadable(first, known === null ? `"${first.text}" is no clock. ${begins}` : begins)
    }
    const line = readLineParts(words, stint.start_at, this.lanes.day, this.#context)
    if (line.place !== null || line.parts.length > 0 || line.strip !== null || line.minutes !== null)
      throw new Unreadable(first, begins)
    const { ticked: _, fished: __, group: ___, ...more } = line.more
    if (line.came === null && Object.values(more).every((value) => value === null))
      throw new Unreadable(first, begins)
    for (const [column, value] of Object.entries(more))
      if (value !== null)
        for (const at of lane.recent) Object.assign(this.#stints[at] ?? {}, { [column]: value })
    if (line.came !== null) {
      stint.strikes.push(...line.came.strikes)
      for (const column of ["follows", "hang_ups", "lures_lost"] as const) {
        const count = line.came[column]
        if (count !== null) stint[column] = (stint[column] ?? 0) + count
      }
    }
    return { kind: "on", of: [index], at: null }
  }
}
