import { minuteMs } from "./effort.ts"
import type { Lane, Lanes } from "./lanes.ts"
import type { Opening, OpeningClock } from "./opening.ts"
import { Unreadable } from "./piece.ts"

/** When a line begins and, where it says so, ends, UTC ms. `open`: the next clock ends it. */
export type LineStart = {
  readonly at: number | null
  readonly end: number | null
  readonly open: boolean
  readonly about: boolean
}

/** The instants that a line's opening means in its lane. Throws Unreadable. */
export function lineStart(lanes: Lanes, lane: Lane, opening: Opening): LineStart {
  const instant = (said: OpeningClock): number | null =>
    said === null ? null : lanes.instant(lane, said.piece, said.clock)
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
      const end = lanes.instant({ ...lane, last: at ?? lane.last }, until.piece, until.clock)
      if (at !== null && end <= at) throw new Unreadable(until.piece, "The end is not after the start.")
      return { at, end, open: false, about: opening.about }
    }
    case "minutes":
    case "unknown":
      return { at: null, end: null, open: false, about: false }
  }
}
