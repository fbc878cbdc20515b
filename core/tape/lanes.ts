import type { DayStop } from "../../shared/day.ts"
import { newStop } from "./newStop.ts"
import { type ClockText, type DayPlace, instantAfter, instantNear, shortest } from "./clock.ts"
import { type TapeContext, usualRods } from "./context.ts"
import type { Piece } from "./piece.ts"
import type { Part } from "./presentation.ts"
import { isSameStop, type PlaceToken } from "./stop.ts"

/** A presentation that carries on; parts of one `group` are fished in turn. */
export type Carried = Omit<Part, "minutes" | "came" | "rods"> & {
  readonly rods: number
  readonly group: number
}

/** What one angler's lines carry on from one another. */
export type Lane = {
  readonly angler_id: string | null
  /** How many rods a line of it is of where it says none, `atOnce` presentations being fished at once. */
  readonly rods: (atOnce: number) => number
  /** The clock of the last line, UTC ms. */
  last: number | null
  /** A ten-minute strip runs until then. */
  until: number | null
  /** The stints that the next clock closes, by their place in the day. */
  open: number[]
  /** The stints of the last line. */
  recent: number[]
  carried: readonly Carried[]
  /** The stop that this lane named last; null: it goes with the first lane. What everybody's lane names is everybody's. */
  stop: number | null
}

/** Lanes, clocks and places of a day while its lines are read one after the other. */
export class Lanes {
  readonly stops: DayStop[] = []
  readonly #context: TapeContext
  readonly #lanes = new Map<string | null, Lane>()
  /** Every clock that was said. */
  readonly #clocks = new Set<number>()
  /** When the first lane came to which stop. */
  readonly #track: { at: number; stop: number }[] = []
  #first: Lane | null = null
  #lastClock: number | null = null
  #day: DayPlace
  /** The stop named last, by whichever lane. */
  latest: number | null = null

  constructor(context: TapeContext) {
    this.#context = context
    this.#day = context.place
  }

  get day(): DayPlace {
    return this.#day
  }

  get lastClock(): number | null {
    return this.#lastClock
  }

  lane(angler_id: string | null): Lane {
    const known = this.#lanes.get(angler_id)
    if (known !== undefined) return known
    const rods = (atOnce: number): number => usualRods(angler_id, this.#context, atOnce)
    const lane: Lane = {
      angler_id,
      rods,
      last: null,
      until: null,
      open: [],
      recent: [],
      carried: [],
      stop: null,
    }
    this.#lanes.set(angler_id, lane)
    return lane
  }

  others(lane: Lane): Lane[] {
    return [...this.#lanes.values()].filter((other) => other !== lane)
  }

  /** The lanes whose anglers a line of this one speaks of too: of everybody's all, of an angler's own that of everybody. */
  meant(lane: Lane): Lane[] {
    return this.others(lane).filter((other) => lane.angler_id === null || other.angler_id === null)
  }

  /** A date on a line of its own: the next clock is the first of that day, in every lane. */
  turnTo(date: string): void {
    this.#day = { ...this.#day, date, start_at: null }
    this.#lastClock = null
    for (const lane of this.#lanes.values()) lane.last = null
  }

  /** The instant that a clock means in a lane. Throws Unreadable. */
  instant(lane: Lane, piece: Piece, clock: ClockText): number {
    if (lane.last !== null || this.#lastClock === null)
      return instantAfter(piece, clock, lane.last, this.#day)
    const near = instantNear(piece, clock, this.#lastClock, this.#day)
    if (this.#clocks.has(near)) return near
    const halfDay = 12 * 3_600_000
    const said = [-1, 1].map((side) => near + side * halfDay).find((at) => this.#clocks.has(at))
    return clock.whole ? near : (said ?? near)
  }

  /** The shortest clock that means this instant in a lane, reckoned from `last`. */
  text(lane: Lane, at: number, last: number | null = lane.last): string {
    return shortest(at, this.#day, (piece, clock) => this.instant({ ...lane, last }, piece, clock))
  }

  /** Keeps a lane's clock as the one from which the next is reckoned. */
  said(lane: Lane, at: number): void {
    lane.last = at
    this.#lastClock = at
    this.#clocks.add(at)
  }

  /** The stop where a lane is at an instant (null: now) if its line names none; null where no place was named yet. */
  stopOf(lane: Lane, at: number | null): number | null {
    if (lane.stop !== null) return lane.stop
    if (lane === this.#first || this.#first === null) return this.latest
    if (at === null) return this.latest
    const before = this.#track.filter((mark) => mark.at <= at)
    return (before.at(-1) ?? this.#track[0])?.stop ?? this.latest
  }

  /** The stop that a place as typed is: the one where the lane or another one is, or a new one. Does not move anybody. */
  existing(lane: Lane, place: PlaceToken, at: number | null): number | null {
    if (place.number !== null) return this.stops[place.number - 1] === undefined ? null : place.number - 1
    const here = this.stopOf(lane, at)
    const others = [...this.#lanes.values()].map((other) => this.stopOf(other, at))
    const candidates = [here, ...others].filter((stop) => stop !== null)
    return (
      candidates.find((index) => {
        const stop = this.stops[index]
        return stop !== undefined && isSameStop(stop, place)
      }) ?? null
    )
  }

  /** Brings a lane to a place as typed, or, where none is, to the one it is at. Returns the stop's place in the day. */
  goTo(lane: Lane, place: PlaceToken | null, at: number | null): number {
    const index =
      place === null
        ? (this.stopOf(lane, at) ?? this.#newStop(this.#context.first_spot))
        : (this.existing(lane, place, at) ?? this.#newStop(place.spot_id))
    const stop = this.stops[index]
    if (place !== null && stop !== undefined) Object.assign(stop, place.says)
    this.#first ??= lane
    const everybody = place !== null && lane.angler_id === null
    if (everybody) for (const other of this.#lanes.values()) other.stop = null
    const moves = everybody || lane === this.#first
    if (place !== null && !everybody) lane.stop = index
    if (everybody || (moves && this.stopOf(this.#first, at) === null)) this.#first.stop = index
    if (moves) this.#track.push({ at: at ?? this.#lastClock ?? -Infinity, stop: index })
    this.latest = index
    return index
  }

  #newStop(spot_id: string | null): number {
    return this.stops.push(newStop(spot_id)) - 1
  }
}
