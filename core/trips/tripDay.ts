import type { SpotWater } from "../conditions/spotWater.ts"

/** A stretch of time with both ends known, UTC ms. */
export type Stretch = { readonly from: number; readonly to: number }

/** A visit to a spot, with what its water and light follow from; `spot` is null where none was said. */
export type DayStop = {
  readonly start_at: number | null
  readonly end_at: number | null
  readonly spot: string | null
  readonly water: SpotWater | null
}

/** A stint as far as a picture of its day needs it. `landed` is null where fish were not counted. */
export type DayStint = {
  readonly id: string
  readonly start_at: number | null
  readonly end_at: number | null
  readonly effort_minutes: number | null
  readonly lure_class: string | null
  readonly presentation: string | null
  readonly spot: string | null
  readonly landed: number | null
}

/** A landed fish; `at` is null where nobody noted when. */
export type DayFish = { readonly stint: string; readonly at: number | null; readonly species: string | null }

/** One trip as the record holds it: what its day strip is drawn from. Instants in UTC ms. */
export type TripDay = {
  /** The local date, YYYY-MM-DD, in `zone`, an IANA name. */
  readonly date: string
  readonly zone: string
  readonly stops: readonly DayStop[]
  readonly stints: readonly DayStint[]
  readonly fish: readonly DayFish[]
}
