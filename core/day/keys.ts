import type { DayReading, DayStint, DayStop, DayUnread } from "../../shared/day.ts"
import { cellsKey } from "../tape/canonical.ts"
import type { TapeDay } from "../tape/reader.ts"

/** What two stints of canonical days are alike in: all but ids, places in a list and the names of groups. */
export const stintKey = (stint: DayStint, { stops }: TapeDay): string =>
  cellsKey({
    ...stint,
    id: null,
    stop: stopKey(stops[stint.stop]),
    share_group: stint.share_group !== null,
    strikes: stint.strikes.map((strike) => cellsKey({ ...strike, id: null })),
  })

/** What makes a stop the same stop in another reading of the day. */
export const stopKey = (stop: DayStop | undefined): string => stop?.spot_id ?? stop?.label ?? ""

export const readingKey = (reading: DayReading, { stops, stints }: TapeDay): string =>
  cellsKey({
    ...reading,
    id: null,
    stop: reading.stop === null ? null : stopKey(stops[reading.stop]),
    stint: reading.stint === null ? null : (stints[reading.stint]?.start_at ?? "untimed"),
  })

export const unreadKey = ({ place, text, stint }: DayUnread): string => JSON.stringify([place, text, stint])

/** Stints that may be one and the same after a change: begun at the same time, or ended at it, or fished alike. */
export const mayBeSame = (one: DayStint, other: DayStint): boolean =>
  one.angler_id === other.angler_id &&
  ((one.start_at !== null && one.start_at === other.start_at) ||
    (one.end_at !== null && one.end_at === other.end_at) ||
    (one.presentation_id !== null && one.presentation_id === other.presentation_id) ||
    one.start_at === null ||
    other.start_at === null)
