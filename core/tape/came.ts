import type { DayStrike } from "../../shared/day.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import type { DayPlace } from "./clock.ts"
import type { Names } from "./names.ts"

/** What came of a stint, as one cell or the end of a line tells it. */
export type Came = {
  strikes: DayStrike[]
  follows: number | null
  hang_ups: number | null
  lures_lost: number | null
}

export const nothingCame = (): Came => ({ strikes: [], follows: null, hang_ups: null, lures_lost: null })

/** What such tokens are read with; `start` is the stint's, for clocks of single fish. */
export type CameContext = {
  readonly names: Names
  readonly reader: ReaderUnits
  readonly place: DayPlace
  readonly start: number | null
}
