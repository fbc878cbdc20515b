import type { Day } from "../../shared/day.ts"
import type { OpenChange } from "../store/put.ts"
import { codedRows } from "../store/read/codes.ts"
import { storedDay } from "../store/read/day.ts"
import type { TapeContext } from "../tape/context.ts"
import { namesOf } from "../tape/names.ts"
import { settingsIn } from "./settings.ts"
import { noTrip } from "./noTrip.ts"

type Db = OpenChange["db"]

/** What a trip's day is read and printed with. One that was only opened begins at the spot it was opened with. */
export const contextOf = (db: Db, { head, stops, stints }: Day): TapeContext => ({
  place: { date: head.date, zone: head.zone, start_at: head.start_at },
  names: namesOf(codedRows(db)),
  reader: settingsIn(db).units,
  first_angler: head.anglers[0] ?? null,
  anglers: head.anglers.length,
  first_spot: stints.length === 0 ? (stops[0]?.spot_id ?? null) : null,
})

/** A trip's day as stored. Throws ProblemError "bad_input" where there is no such trip. */
export function requireDay(db: Db, trip: string): Day {
  const day = storedDay(db, trip)
  if (day === null) throw noTrip(trip)
  return day
}
