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
  /** How many anglers the trip names. */
  readonly anglers: number
  /** The spot where the day begins, where the trip or the user has said one. */
  readonly first_spot: string | null
}

/** How many rods a row is of that says none: everybody's has one for each angler of the trip, `atOnce` sets of them sharing these. */
export const usualRods = (angler_id: string | null, { anglers }: TapeContext, atOnce = 1): number =>
  angler_id === null ? Math.max(1, Math.floor(anglers / atOnce)) : 1
