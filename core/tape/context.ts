import type { ReaderUnits } from "../../shared/readerUnits.ts"
import type { DayPlace } from "./clock.ts"
import type { Names } from "./names.ts"

/** What a day's notation is read and printed with. */
export type TapeContext = {
  readonly place: DayPlace
  readonly names: Names
  readonly reader: ReaderUnits
  /** Who a line without a lane is of; null where the trip names nobody. */
  readonly first_angler: string | null
  /** The spot where the day begins, where the trip or the user has said one. */
  readonly first_spot: string | null
}
