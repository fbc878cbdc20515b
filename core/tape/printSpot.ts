import type { DayStint, DayStop } from "../../shared/day.ts"
import type { TapeContext } from "./context.ts"
import { minuteMs } from "./effort.ts"
import type { Lane, Lanes } from "./lanes.ts"
import type { Names } from "./names.ts"
import type { TapeDay } from "./reader.ts"
import { placeText, type PlaceToken } from "./stop.ts"
import { stopTimes } from "./stopTimes.ts"

/** A day that is printed, and the lanes as they stand after the lines printed so far. */
export type Printing = { readonly day: TapeDay; readonly context: TapeContext; readonly lanes: Lanes }

/** The spot of a line as typed, with all that is known of its stop where it was not named before; empty where it carries on. */
export function spotText({ day, context, lanes }: Printing, lane: Lane, stint: DayStint): string {
  const stop = day.stops[stint.stop]
  if (stop === undefined) return ""
  if (stint.stop >= lanes.stops.length) {
    const text = stopText({ day, context, lanes }, lane, stop, stint.stop, stint.start_at)
    const carries =
      lanes.stopOf(lane, stint.start_at) === null &&
      text === plainSpot(stop, context.names) &&
      stop.spot_id === context.first_spot
    return carries ? "" : text
  }
  if (lanes.stopOf(lane, stint.start_at) === stint.stop) return ""
  const token = { ...plainToken(stop), number: null }
  const text = plainSpot(stop, context.names)
  return lanes.existing(lane, token, stint.start_at) === stint.stop ? text : `${text}/stop=${stint.stop + 1}`
}

/** A stop that was not named before, with all that is known of it. */
export function stopText(
  { day, context, lanes }: Printing,
  lane: Lane,
  stop: DayStop,
  index: number,
  at: number | null,
): string {
  const token: PlaceToken = { ...plainToken(stop), says: saysOf(stop) }
  const again = lanes.existing(lane, token, at) !== null
  const derived = stopTimes(day.stints.filter(({ stop: of }) => of === index))
  const near = at ?? lane.last ?? lanes.lastClock
  const text = (time: number | null, last: number | null): string =>
    time === null ? "?" : lanes.text(lane, time, last)
  const times = {
    arrive:
      stop.start_at === derived.start_at
        ? ""
        : text(stop.start_at, near === null ? null : near - arriveWithin),
    leave: stop.end_at === derived.end_at ? "" : text(stop.end_at, arrived(stop, derived.start_at) ?? near),
  }
  return placeText(stop, { again, number: null }, times, context.names)
}

/** What the reader counts the leaving from: the arrival where it is said. */
function arrived(stop: DayStop, derived: number | null): number | null {
  return stop.start_at === derived ? null : stop.start_at
}

function plainSpot(stop: DayStop, names: Names): string {
  const bare = { ...stop, platform: null, label: null, ground: null, structure: null, why_left: null }
  return placeText(bare, { again: false, number: null }, { arrive: "", leave: "" }, names)
}

const arriveWithin = 6 * 60 * minuteMs

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
