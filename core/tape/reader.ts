import type { DayReading, DayStint, DayStop, DayUnread, Unclear } from "../../shared/day.ts"
import { tickMinutes } from "../../shared/notation.ts"
import { settled } from "./amount.ts"
import { clockWords, readClock, readMinutes } from "./clock.ts"
import type { TapeContext } from "./context.ts"
import { type Carried, type Lane, Lanes } from "./lanes.ts"
import { type More, nothingMore, readMore } from "./more.ts"
import { named } from "./names.ts"
import { type Opening, type OpeningClock, readOpening } from "./opening.ts"
import { part, type Piece, splitAt, tokens, unescaped, Unreadable } from "./piece.ts"
import { isPresentation, type Part, readPart } from "./presentation.ts"
import { type ReadingOf, readReading } from "./readings.ts"
import { isPlace, type PlaceToken, readPlace } from "./stop.ts"
import { type Came, type CameContext, nothingCame, readCameToken } from "./strikes.ts"
import { readStrip } from "./strip.ts"

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

const minuteMs = 60_000
const longestMs = 24 * 60 * minuteMs

/** The parts of a stint's line, tokens told apart. */
type LineParts = {
  place: PlaceToken | null
  parts: { part: Part; group: number }[]
  /** Fates and fish that follow no presentation of the line's own. */
  came: Came | null
  more: More
  minutes: number | null
  strip: { piece: Piece; more: Piece[] } | null
}

/** Reads a tape line by line. What cannot be read becomes `unread` and stops nothing. */
export class TapeReader {
  readonly lanes: Lanes
  readonly #context: TapeContext
  readonly #stints: DayStint[] = []
  readonly #readings: DayReading[] = []
  readonly #unread: DayUnread[] = []
  /** Readings and notes that wait for the next clock. */
  #waiting: { reading: DayReading; of: ReadingOf }[] = []
  #notes: { line: string; note: string | null }[] = []
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
    for (const { reading, of } of this.#waiting)
      Object.assign(reading, {
        at: this.lanes.lastClock,
        stop: of === "trip" ? null : this.lanes.latest,
        stint: null,
      })
    this.#waiting = []
    for (const { line } of this.#notes)
      this.#unread.push({ id: null, stint: null, place: "tape", position: this.#stints.length, text: line })
    this.#notes = []
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
    this.#notes.push({ line, note: noteOf(token) })
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
    if (waits) this.#waiting.push({ reading, of: said.of })
    return { kind: "reading", of: [this.#readings.length - 1], at }
  }

  #readingClock(piece: Piece, clock: NonNullable<OpeningClock>["clock"]): number {
    const lane = { ...this.lanes.lane(this.#context.first_angler), last: this.lanes.lastClock }
    return this.lanes.instant(lane, piece, clock)
  }

  #namePlace(lane: Lane, token: Piece): Pick<LineRead, "kind" | "of" | "at"> {
    const place = readPlace(token, this.#context.names)
    const times = this.#stopTimes(lane, place, null)
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
    const start = this.#start(lane, opening)
    if ((opening.kind === "clock" || opening.kind === "after") && opening.closes)
      return this.#close(lane, token, start.at, others, everybody)
    if (start.at !== null) this.#checkClosing(lane, token, start.at)
    try {
      const parts = this.#parts(others, start.at)
      if (parts.strip !== null) return this.#openStrip(lane, token, start, opening, parts)
      const end = start.end ?? this.#endBy(parts, start.at)
      const drafts = this.#stintsOf(lane, token, opening, parts, { ...start, end })
      this.#closeOpen(lane, start.at)
      return this.#add(lane, parts, drafts, start.at, end === null && start.open)
    } catch (error) {
      // The clock is clear, whatever follows it: the stint above ends there.
      if (error instanceof Unreadable && start.at !== null) {
        this.#closeOpen(lane, start.at)
        this.lanes.said(lane, start.at)
      }
      throw error
    }
  }

  /** When a line begins and, where it says so, ends. `open`: the next clock ends it. */
  #start(
    lane: Lane,
    opening: Opening,
  ): { at: number | null; end: number | null; open: boolean; about: boolean } {
    const instant = (said: OpeningClock): number | null =>
      said === null ? null : this.lanes.instant(lane, said.piece, said.clock)
    switch (opening.kind) {
      case "clock":
        return { at: instant(opening), end: null, open: true, about: opening.about }
      case "after": {
        if (lane.last === null)
          throw new Unreadable(opening.piece, "There is no clock above from which to count the minutes.")
        return { at: lane.last + opening.minutes * minuteMs, end: null, open: true, about: opening.about }
      }
      case "range": {
        const at = instant(opening.from)
        const until = opening.to
        if (until === null) return { at, end: null, open: false, about: opening.about }
        const end = this.lanes.instant({ ...lane, last: at ?? lane.last }, until.piece, until.clock)
        if (at !== null && end <= at) throw new Unreadable(until.piece, "The end is not after the start.")
        return { at, end, open: false, about: opening.about }
      }
      case "minutes":
      case "unknown":
        return { at: null, end: null, open: false, about: false }
    }
  }

  #endBy({ minutes }: LineParts, start: number | null): number | null {
    return minutes === null || start === null ? null : start + minutes * minuteMs
  }

  /** Refuses a clock that would leave a stint above without time, or with less than was said of it. */
  #checkClosing(lane: Lane, token: Piece, at: number): void {
    if (lane.until !== null && at < lane.until)
      throw new Unreadable(
        token,
        `The strip above runs to ${clockWords(lane.until, this.lanes.day.zone)}. Give a later clock, or take ticks off it.`,
      )
    let shared = 0
    for (const index of lane.open) {
      const stint = this.#stints[index]
      if (stint === undefined || stint.start_at === null) continue
      const span = (at - stint.start_at) / minuteMs
      if (span <= 0)
        throw new Unreadable(
          token,
          "The stint above would have no time. Two rods at once stand on one line, with | between.",
        )
      if (span * minuteMs > longestMs)
        throw new Unreadable(token, "The stint above would be longer than a day. End it with a clock and x.")
      const rest = stint.break_minutes ?? 0
      if (stint.share_group !== null) shared += stint.effort_minutes ?? 0
      if (rest >= span || (stint.effort_minutes ?? 0) > span - rest + 1e-6 || shared > span - rest + 1e-6)
        throw new Unreadable(
          token,
          `The stint above says more minutes than its ${settled(span)} have room for.`,
        )
    }
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
    const running = (index: number): boolean => (this.#stints[index]?.start_at ?? at) < at
    const lanes = [
      lane,
      ...(everybody ? this.lanes.others(lane).filter(({ open }) => open.every(running)) : []),
    ]
    for (const one of lanes) this.#checkClosing(one, token, at)
    const of = lanes.flatMap(({ open }) => open)
    for (const one of lanes) {
      this.#closeOpen(one, at)
      one.until = null
    }
    this.lanes.said(lane, at)
    return { kind: "end", of, at }
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

  /** A line's tokens behind the clock, told apart. */
  #parts(words: readonly Piece[], start: number | null): LineParts {
    const { names, reader } = this.#context
    const came: CameContext = { names, reader, place: this.lanes.day, start }
    const line: LineParts = {
      place: null,
      parts: [],
      came: null,
      more: nothingMore,
      minutes: null,
      strip: null,
    }
    const last: { species: string | null } = { species: null }
    let joint: "+" | "|" | null = null
    for (const word of words) {
      if (word.text.startsWith(";")) {
        line.more = { ...line.more, notes: noteOf(word) }
        continue
      }
      if (word.text.startsWith('"') && line.strip === null) {
        line.strip = { piece: word, more: [] }
        continue
      }
      const more = readMore(word, reader)
      const minutes = readMinutes(word.text)
      if (more !== null) line.more = { ...line.more, ...more }
      else if (line.strip !== null) line.strip.more.push(word)
      else if (minutes !== null) line.minutes = minutes
      else if (isPlace(word, names)) {
        if (line.place !== null || line.parts.length > 0 || line.came !== null)
          throw new Unreadable(word, "The spot stands right behind the clock, once.")
        line.place = readPlace(word, names)
      } else
        for (const [i, item] of jointly(word).entries()) {
          if (i > 0) joint = word.text[item.at - word.at - 1] === "|" ? "|" : "+"
          if (item.text === "") continue
          if (isPresentation(item, names)) {
            const before = line.parts.at(-1)
            if (before !== undefined && joint === null)
              throw new Unreadable(
                item,
                "Two presentations: write + between them if fished in turn, | if at once.",
                ["+", "|"],
              )
            if (line.came !== null)
              throw new Unreadable(item, "The presentation stands before what came of it.")
            const group = before === undefined ? 0 : joint === "+" ? before.group : before.group + 1
            line.parts.push({ part: readPart(item, came), group })
            joint = null
            continue
          }
          if (joint !== null) named(item, ["presentation"], names)
          const target = line.parts.at(-1)?.part.came ?? (line.came ??= nothingCame())
          if (readCameToken(item, last, target, came)) continue
          named(
            item,
            line.place === null && line.parts.length === 0
              ? ["spot", "presentation", "species"]
              : ["presentation", "species"],
            names,
          )
        }
    }
    if (joint !== null)
      throw new Unreadable(
        words.at(-1) ?? { text: "", at: 0 },
        "Another presentation is wanted behind the + or |.",
      )
    return line
  }

  /** The stints that a line opens, not yet stored: its presentations, or those that carry on. */
  #stintsOf(
    lane: Lane,
    token: Piece,
    opening: Opening,
    line: LineParts,
    when: { at: number | null; end: number | null; about: boolean },
  ): DayStint[] {
    const { more } = line
    const parts = line.parts.length > 0 ? line.parts : carriedParts(lane.carried, line.came)
    const groups = Map.groupBy(parts, ({ group }) => group)
    const order = [...groups.keys()]
    const given = opening.kind === "minutes" ? opening.minutes : null
    const span = given ?? (when.at === null || when.end === null ? null : (when.end - when.at) / minuteMs)
    const rest = more.break_minutes ?? 0
    if (more.break_minutes !== null && when.at === null)
      throw new Unreadable(token, "A rest is taken off a clock's time: this line has no clock.")
    const said = [more.fished ?? 0, ...[...groups.values()].map((group) => sum(group))]
    if (span !== null && (rest >= span || said.some((minutes) => minutes > span - rest + 1e-6)))
      throw new Unreadable(token, `More minutes are said than there is room for in ${settled(span)}.`)
    if (span !== null && span * minuteMs > longestMs)
      throw new Unreadable(token, "A stint is no longer than a day.")
    return parts.map(({ part: one, group }) => {
      const together = groups.get(group) ?? []
      const shares = together.length > 1
      const own = one.minutes ?? more.fished
      const even = span === null ? null : (span - rest) / together.length
      const effort = shares ? (own ?? even) : (own ?? given)
      return {
        id: null,
        stop: 0,
        angler_id: lane.angler_id,
        presentation_id: one.presentation_id,
        ...one.cadence,
        start_at: when.at,
        start_about: when.about ? 1 : null,
        end_at: when.end,
        effort_minutes: effort === null ? null : settled(effort),
        break_minutes: more.break_minutes,
        effort_source: sourceOf(more, shares, own ?? given, when),
        share_group: more.group ?? (shares ? `${this.#groups + order.indexOf(group) + 1}` : null),
        rods: one.rods,
        sight: more.sight,
        fished_depth_m: more.fished_depth_m,
        counted_misses: more.counted_misses,
        counted_losses: more.counted_losses,
        counted_follows: more.counted_follows,
        counted_hang_ups: more.counted_hang_ups,
        counted_landed: more.counted_landed,
        follows: one.came.follows,
        hang_ups: one.came.hang_ups,
        lures_lost: one.came.lures_lost,
        why_changed: more.why_changed,
        notes: more.notes,
        strikes: one.came.strikes,
      }
    })
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
    const tick = tickMinutes * minuteMs
    const drafts = runs.flatMap((run) => {
      const part: Part = {
        presentation_id: run.presentation_id,
        cadence: emptyCadence,
        rods: 1,
        minutes: null,
        came: run.came,
      }
      const at = from + run.tick * tick
      const when = { at, end: at + run.ticks * tick, about: start.about && run.tick === 0 }
      const more = { ...line.more, ticked: true }
      return this.#stintsOf(lane, token, opening, { ...line, more, parts: [{ part, group: 0 }] }, when)
    })
    this.#closeOpen(lane, from)
    const read = this.#add(lane, line, drafts, from, false)
    const lastRun = runs.at(-1)
    lane.carried = lane.carried.slice(-1)
    this.lanes.said(lane, from + (lastRun?.tick ?? 0) * tick)
    lane.until = from + ticks * tick
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
    const times = line.place === null ? {} : this.#stopTimes(lane, line.place, at)
    const stop = this.lanes.goTo(lane, line.place, at)
    Object.assign(this.lanes.stops[stop] ?? {}, times)
    const first = this.#stints.length
    for (const [i, draft] of drafts.entries())
      this.#stints.push({ ...draft, stop, notes: i === 0 ? this.#withNote(draft.notes) : draft.notes })
    const of = drafts.map((_, i) => first + i)
    this.#groups += drafts.length
    lane.recent = of
    lane.open = open ? of : []
    lane.until = null
    lane.carried = drafts.map((draft, i) => carriedOf(draft, groupOf(drafts, i)))
    if (at !== null) this.lanes.said(lane, at)
    for (const { reading, of: its } of this.#waiting)
      Object.assign(reading, {
        at,
        stop: its === "trip" ? null : stop,
        stint: its === "stint" ? first : null,
      })
    this.#waiting = []
    return { kind: "stints", of, at }
  }

  #withNote(own: string | null): string | null {
    const note = [...this.#notes.map((one) => one.note), own].filter((text) => text !== null).join("\n")
    this.#notes = []
    return note === "" ? null : note
  }

  #stopTimes(lane: Lane, { arrive, leave }: PlaceToken, at: number | null): Partial<DayStop> {
    const near = at ?? lane.last ?? this.lanes.lastClock
    const instant = (typed: PlaceToken["arrive"], after: number | null): number | null =>
      typed?.clock == null ? null : this.lanes.instant({ ...lane, last: after }, typed.piece, typed.clock)
    const start = instant(arrive, near === null ? null : near - 6 * 60 * minuteMs)
    const end = instant(leave, start ?? near)
    if (leave?.clock != null && start !== null && end !== null && end < start)
      throw new Unreadable(leave.piece, "One leaves after one arrives.")
    return {
      ...(arrive === null ? {} : { start_at: start ?? unknownTime }),
      ...(leave === null ? {} : { end_at: end ?? unknownTime }),
    }
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
    const line = this.#parts(words, stint.start_at)
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

/** Marks a stop's time that nobody knows. */
const unknownTime = -Infinity

const emptyCadence = {
  actions_per_cycle: null,
  pause_s: null,
  pace: null,
  rhythm: null,
  line: null,
  water_column: null,
  bait: null,
}

/** A note without its semicolon. */
const noteOf = ({ text }: Piece): string | null => {
  const note = unescaped(text.replace(/^;\s?/, ""))
  return note === "" ? null : note
}

/** The pieces between + and |, but for an equals sign's value. */
const jointly = (word: Piece): Piece[] => splitAt(word, (letter) => letter === "+" || letter === "|")

const sum = (group: readonly { part: Part }[]): number =>
  group.reduce((total, { part: { minutes } }) => total + (minutes ?? 0), 0)

function carriedParts(carried: readonly Carried[], came: Came | null): { part: Part; group: number }[] {
  if (carried.length === 0) {
    const part = { presentation_id: null, cadence: emptyCadence, rods: 1, minutes: null }
    return [{ part: { ...part, came: came ?? nothingCame() }, group: 0 }]
  }
  return carried.map(({ group, ...one }, i) => ({
    group,
    part: { ...one, minutes: null, came: i === carried.length - 1 ? (came ?? nothingCame()) : nothingCame() },
  }))
}

/** Parts of a shared effort are one group; others are each their own. */
function groupOf(drafts: readonly DayStint[], i: number): number {
  const group = drafts[i]?.share_group ?? null
  return group === null ? i : drafts.findIndex(({ share_group }) => share_group === group)
}

function carriedOf(stint: DayStint, group: number): Carried {
  const { actions_per_cycle, pause_s, pace, rhythm, line, water_column, bait } = stint
  return {
    presentation_id: stint.presentation_id,
    cadence: { actions_per_cycle, pause_s, pace, rhythm, line, water_column, bait },
    rods: stint.rods,
    group,
  }
}

function sourceOf(
  more: More,
  shares: boolean,
  own: number | null,
  when: { at: number | null; end: number | null },
): DayStint["effort_source"] {
  if (shares || more.group !== null) return "shared"
  if (more.ticked) return "ticked"
  if (own !== null) return "given"
  return when.at === null ? null : "clocked"
}

/** Gives a closed stint of a shared stretch its even part, where no minutes were said. */
function settleEffort(stint: DayStint, all: readonly DayStint[]): void {
  if (stint.share_group === null || stint.effort_minutes !== null) return
  if (stint.start_at === null || stint.end_at === null) return
  const parts = all.filter(({ share_group }) => share_group === stint.share_group).length
  const span = (stint.end_at - stint.start_at) / minuteMs - (stint.break_minutes ?? 0)
  stint.effort_minutes = settled(span / parts)
}

/** A stop lasts from its first stint's start to the last one's end, where nothing else was said. */
function setStopTimes(stops: readonly DayStop[], stints: readonly DayStint[]): void {
  const byStop = Map.groupBy(stints, ({ stop }) => stop)
  for (const [index, stop] of stops.entries()) {
    const derived = stopTimes(byStop.get(index) ?? [])
    stop.start_at = stop.start_at === unknownTime ? null : (stop.start_at ?? derived.start_at)
    stop.end_at = stop.end_at === unknownTime ? null : (stop.end_at ?? derived.end_at)
    if (stop.start_at !== null && stop.end_at !== null && stop.end_at < stop.start_at) stop.end_at = null
  }
}

/** When a stop began and ended as its stints tell it; null where one of them does not. */
export function stopTimes(stints: readonly DayStint[]): { start_at: number | null; end_at: number | null } {
  const starts = stints.flatMap(({ start_at }) => start_at ?? [])
  const ends = stints.flatMap(({ end_at }) => end_at ?? [])
  return {
    start_at: starts.length === 0 ? null : Math.min(...starts),
    end_at: ends.length === 0 || ends.length < stints.length ? null : Math.max(...ends),
  }
}
