import type { DayReading, DayStint, DayStop } from "../../shared/day.ts"
import { tickMinutes } from "../../shared/notation.ts"
import { settled } from "./amount.ts"
import { canonicalDay } from "./canonical.ts"
import { minutesText } from "./clock.ts"
import type { TapeContext } from "./context.ts"
import type { Lane } from "./lanes.ts"
import { type More, moreTokens, reasonToken } from "./more.ts"
import { escaped } from "./piece.ts"
import { presentationText, rodsText, shareText, withCame } from "./presentation.ts"
import { linesOf, type PrintLine } from "./printLines.ts"
import { readingText } from "./readings.ts"
import { type TapeDay, TapeReader } from "./reader.ts"
import { stopTimes } from "./stopTimes.ts"
import { type CameContext, cameTokens } from "./strikes.ts"
import { placeText, type PlaceToken } from "./stop.ts"

/**
 * The tape of a day: read again with the same context it gives the same day (its canonical form). Every line is said as
 * shortly as what stands above it allows; the printer reads each line back as it goes, so that it knows what carries on.
 */
export const printTape = (day: TapeDay, context: TapeContext): string =>
  new Printer(canonicalDay(day), context).print()

const minuteMs = 60_000

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
    this.#lines = linesOf(day, context.names)
  }

  print(): string {
    const readings = this.#placedReadings()
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
      this.#say(this.#newPlace(this.#lane(this.#context.first_angler), stop, this.#stopsNamed, null))
      for (const reading of this.#day.readings)
        if (reading.stint === null && reading.stop === this.#stopsNamed)
          this.#say(this.#readingLine(reading, true))
    }
  }

  #lane(angler_id: string | null): Lane {
    return this.#reader.lanes.lane(angler_id)
  }

  #line({ stints, first: index }: PrintLine, at: number): string {
    const [first] = stints
    if (first === undefined) return ""
    const lane = this.#lane(first.angler_id)
    const place = this.#place(lane, first)
    const opening = this.#opening(lane, stints, at)
    const parts = this.#parts(lane, stints)
    const more = moreTokens(this.#more(stints, index), this.#context.reader)
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

  /** When the next line of the same lane ends this one, if it says no end: its start, null where it says none or there is none. */
  #closedBy({ angler_id, start_at }: DayStint, at: number): number | null {
    const next = this.#lines.slice(at + 1).find(({ stints }) => stints[0]?.angler_id === angler_id)
    const start = next?.stints[0]?.start_at ?? null
    return start !== null && start_at !== null && start <= start_at ? Number.NaN : start
  }

  /** The spot of a line, empty where it carries on. */
  #place(lane: Lane, stint: DayStint): string {
    const { lanes } = this.#reader
    const stop = this.#day.stops[stint.stop]
    if (stop === undefined) return ""
    if (stint.stop >= lanes.stops.length) {
      const text = this.#newPlace(lane, stop, stint.stop, stint.start_at)
      this.#stopsNamed = Math.max(this.#stopsNamed, stint.stop + 1)
      const carries =
        lanes.stopOf(lane, stint.start_at) === null &&
        text === this.#plainPlace(stop) &&
        stop.spot_id === this.#context.first_spot
      return carries ? "" : text
    }
    if (lanes.stopOf(lane, stint.start_at) === stint.stop) return ""
    const token = { ...plainToken(stop), number: null }
    const text = this.#plainPlace(stop)
    return lanes.existing(lane, token, stint.start_at) === stint.stop
      ? text
      : `${text}/stop=${stint.stop + 1}`
  }

  #plainPlace(stop: DayStop): string {
    const bare = { ...stop, platform: null, label: null, ground: null, structure: null, why_left: null }
    return placeText(bare, { again: false, number: null }, { arrive: "", leave: "" }, this.#context.names)
  }

  /** A stop that was not named before, with all that is known of it. */
  #newPlace(lane: Lane, stop: DayStop, index: number, at: number | null): string {
    const { lanes } = this.#reader
    const token: PlaceToken = { ...plainToken(stop), says: saysOf(stop) }
    const again = lanes.existing(lane, token, at) !== null
    const derived = stopTimes(this.#day.stints.filter(({ stop: of }) => of === index))
    const near = at ?? lane.last ?? lanes.lastClock
    const text = (time: number | null, last: number | null): string =>
      time === null ? "?" : lanes.text(lane, time, last)
    const times = {
      arrive:
        stop.start_at === derived.start_at
          ? ""
          : text(stop.start_at, near === null ? null : near - arriveWithin),
      leave:
        stop.end_at === derived.end_at
          ? ""
          : text(stop.end_at, this.#arrived(stop, derived.start_at) ?? near),
    }
    return placeText(stop, { again, number: null }, times, this.#context.names)
  }

  /** What the reader counts the leaving from: the arrival where it is said. */
  #arrived(stop: DayStop, derived: number | null): number | null {
    return stop.start_at === derived ? null : stop.start_at
  }

  /** Presentations with what came of them; the presentations only where they do not carry on. */
  #parts(lane: Lane, stints: readonly DayStint[]): string {
    const [first] = stints
    if (first === undefined) return ""
    const context = this.#cameContext(first.start_at)
    const shared = stints.filter(({ share_group }) => share_group !== null)
    const alone = stints.length === 1
    const minutes = (stint: DayStint): number | null =>
      stint.share_group === null || alone || this.#isEven(stint, stints) ? null : stint.effort_minutes
    const says = shared.some((stint) => minutes(stint) !== null)
    const early = stints.slice(0, -1).some((stint) => cameTokens(stint, context).length > 0)
    if (!says && !early && carriesOn(lane, stints)) {
      const last = stints.at(-1)
      return last === undefined ? "" : withCame("", last, context)
    }
    return stints
      .map((stint, i) => {
        const text = `${presentationText(stint, this.#context.names)}${rodsText(stint.rods)}${shareText(minutes(stint))}`
        const before = stints[i - 1]
        const joint =
          before === undefined
            ? ""
            : stint.share_group !== null && stint.share_group === before.share_group
              ? "+"
              : "|"
        return { joint, text: withCame(text, stint, context) }
      })
      .reduce((line, { joint, text }) => {
        if (joint === "") return text
        return line.includes(" ") || text.includes(" ")
          ? `${line} ${joint} ${text}`
          : `${line}${joint}${text}`
      }, "")
  }

  /** Whether a shared stint has an even part of its group's stretch, as the reader would give it. */
  #isEven(stint: DayStint, stints: readonly DayStint[]): boolean {
    const { effort_minutes: effort, start_at: start, end_at: end } = stint
    const group = stints.filter(({ share_group }) => share_group === stint.share_group)
    const given = group.reduce((sum, { effort_minutes }) => sum + (effort_minutes ?? 0), 0)
    const room =
      start === null || end === null ? given : (end - start) / minuteMs - (stint.break_minutes ?? 0)
    if (start !== null && end === null) return effort === null
    return effort === null ? start === null : settled(room / group.length) === settled(effort)
  }

  #more(stints: readonly DayStint[], index: number): More {
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
    void index
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
      const start = ((stint.start_at ?? from) - from) / (tickMinutes * minuteMs)
      const end = ((stint.end_at ?? from) - from) / (tickMinutes * minuteMs)
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

  /** Where readings stand: right before the line that gives them clock and place, else behind one, with a clock of their own. */
  #placedReadings(): {
    top: DayReading[]
    before: Map<number, DayReading[]>
    after: Map<number, DayReading[]>
  } {
    const top: DayReading[] = []
    const before = new Map<number, DayReading[]>()
    const after = new Map<number, DayReading[]>()
    const put = (map: Map<number, DayReading[]>, at: number, reading: DayReading) =>
      map.set(at, [...(map.get(at) ?? []), reading])
    for (const reading of this.#day.readings) {
      const { at, stop, stint } = reading
      const starts = this.#lines.map(({ stints }) => stints[0])
      if (stint === null && stop !== null && !starts.some((line) => line?.stop === stop)) continue
      if (stint !== null) {
        const line = this.#lines.findIndex(
          ({ first, stints }) => stint >= first && stint < first + stints.length,
        )
        if (starts[line]?.start_at === at) put(before, line, reading)
        else put(after, line, reading)
        continue
      }
      const here = (line: DayStint | undefined): boolean => stop === null || line?.stop === stop
      const same = at === null ? -1 : starts.findIndex((line) => line?.start_at === at && here(line))
      if (same >= 0) {
        put(before, same, reading)
        continue
      }
      const fits = starts.flatMap((line, i) => (here(line) ? [{ line, i }] : []))
      const past = fits.filter(
        ({ line }) => at !== null && line !== undefined && (line.start_at ?? Infinity) <= at,
      )
      const chosen = past.at(-1) ?? (stop === null ? undefined : fits[0])
      if (chosen === undefined) top.push(reading)
      else put(after, chosen.i, reading)
    }
    return { top, before, after }
  }
}

const arriveWithin = 6 * 60 * minuteMs

const words = (parts: readonly string[]): string => parts.filter((text) => text !== "").join(" ")

const plainToken = ({ spot_id }: DayStop): PlaceToken => ({
  spot_id,
  again: false,
  number: null,
  says: {},
  arrive: null,
  leave: null,
})

function saysOf({ platform, label, ground, structure, why_left }: DayStop): PlaceToken["says"] {
  return {
    ...(platform === null ? {} : { platform }),
    ...(label === null ? {} : { label }),
    ...(ground === null ? {} : { ground }),
    ...(structure === null ? {} : { structure }),
    ...(why_left === null ? {} : { why_left }),
  }
}

/** Whether a line's presentations are just those that carry on in its lane. */
function carriesOn(lane: Lane, stints: readonly DayStint[]): boolean {
  if (lane.carried.length !== stints.length)
    return stints.length === 1 && lane.carried.length === 0 && isUnsaid(stints[0])
  const groups = stints.map(({ share_group }) => share_group)
  return stints.every((stint, i) => {
    const carried = lane.carried[i]
    if (carried === undefined) return false
    const { cadence } = carried
    const sharing = groups[i] !== null && groups.filter((group) => group === groups[i]).length > 1
    const shares = lane.carried.filter(({ group }) => group === carried.group).length > 1
    return (
      carried.presentation_id === stint.presentation_id &&
      carried.rods === stint.rods &&
      sharing === shares &&
      (!sharing ||
        lane.carried.findIndex(({ group }) => group === carried.group) ===
          groups.indexOf(groups[i] ?? null)) &&
      cadence.actions_per_cycle === stint.actions_per_cycle &&
      cadence.pause_s === stint.pause_s &&
      cadence.pace === stint.pace &&
      cadence.rhythm === stint.rhythm &&
      cadence.line === stint.line &&
      cadence.water_column === stint.water_column &&
      cadence.bait === stint.bait
    )
  })
}

const isUnsaid = (stint: DayStint | undefined): boolean =>
  stint !== undefined &&
  stint.presentation_id === null &&
  stint.rods === 1 &&
  [
    stint.actions_per_cycle,
    stint.pause_s,
    stint.pace,
    stint.rhythm,
    stint.line,
    stint.water_column,
    stint.bait,
  ].every((value) => value === null)
