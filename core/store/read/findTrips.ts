import type { Database } from "better-sqlite3"
import { z } from "zod"
import { type FactorId, isFactorId } from "../../../shared/factors.ts"

/** What one stint of a trip must have: one of these levels of one of these factors. */
export type StintWish = {
  readonly anyOf: readonly { readonly factor: FactorId; readonly levels: readonly string[] }[]
}

/** Which trips are looked for: each wish of one and the same stint, each word somewhere in the trip. */
export type TripWish = {
  readonly stint: readonly StintWish[]
  /** Names of species of which one was landed. */
  readonly species: readonly string[]
  /** Local hours between which that stint lies, from included, to excluded. */
  readonly hours: { readonly from: number; readonly to: number } | null
  readonly blank: boolean | null
  readonly words: readonly string[]
}

const Ids = z.array(z.string())

/** The live trips that fit, latest first. */
export function findTrips(db: Database, wish: TripWish): string[] {
  const conditions: string[] = []
  const values: unknown[] = []
  const add = (sql: string, ...of: unknown[]): void => {
    conditions.push(sql)
    values.push(...of)
  }
  const stint = stintCondition(wish)
  if (stint !== null)
    add(`trip.id IN (SELECT trip_id FROM stint_fact AS fact WHERE ${stint.sql})`, ...stint.values)
  if (wish.blank !== null)
    add(
      `trip.id IN (
         SELECT trip_id FROM stint_fact GROUP BY trip_id
         HAVING ${wish.blank ? "count(landed) = count(*) AND sum(landed) = 0" : "sum(landed) > 0"}
       )`,
    )
  for (const word of wish.words) add(`trip.id IN (${wordSql})`, ...Array<string>(wordPlaces).fill(like(word)))
  return Ids.parse(
    db
      .prepare(
        `SELECT trip.id FROM trip
         WHERE ${["trip.deleted_at IS NULL", ...conditions].join(" AND ")}
         ORDER BY trip.date DESC, coalesce(trip.start_at, 0) DESC, trip.id DESC`,
      )
      .pluck()
      .all(values),
  )
}

const levelList = "IN (SELECT value FROM json_each(?))"

function stintCondition({ stint, species, hours }: TripWish): { sql: string; values: unknown[] } | null {
  const parts: string[] = []
  const values: unknown[] = []
  for (const { anyOf } of stint) {
    parts.push(
      `(${anyOf.map(({ factor }) => `CAST(fact.${column(factor)} AS TEXT) ${levelList}`).join(" OR ")})`,
    )
    values.push(...anyOf.map(({ levels }) => JSON.stringify(levels)))
  }
  if (hours !== null) {
    parts.push("fact.hour_local >= ? AND fact.hour_local < ?")
    values.push(hours.from, hours.to)
  }
  for (const name of species) {
    parts.push(
      `fact.stint_id IN (
         SELECT strike.stint_id FROM strike JOIN species ON species.id = strike.species_id
         WHERE strike.deleted_at IS NULL AND strike.fate = 'landed' AND species.name = ?
       )`,
    )
    values.push(name)
  }
  return parts.length === 0 ? null : { sql: parts.join(" AND "), values }
}

/** A factor is a column of the view by its id; anything else never gets into SQL. */
function column(factor: FactorId): FactorId {
  if (!isFactorId(factor)) throw new Error(`no factor ${String(factor)}`)
  return factor
}

/** Where a word may stand: in the trip's own text, in those of its stops and stints, and in the names of what was used. */
const wordSelects = [
  "SELECT id FROM trip WHERE label LIKE ?1 ESCAPE '!' OR notes LIKE ?1 ESCAPE '!' OR date LIKE ?1 ESCAPE '!'",
  `SELECT stop.trip_id FROM stop LEFT JOIN spot ON spot.id = stop.spot_id
   WHERE stop.deleted_at IS NULL
     AND (spot.name LIKE ?1 ESCAPE '!' OR stop.why_left LIKE ?1 ESCAPE '!' OR stop.label LIKE ?1 ESCAPE '!')`,
  `SELECT stop.trip_id FROM stint JOIN stop ON stop.id = stint.stop_id
   LEFT JOIN presentation ON presentation.id = stint.presentation_id
   LEFT JOIN lure ON lure.id = presentation.lure_id
   LEFT JOIN angler ON angler.id = stint.angler_id
   WHERE stint.deleted_at IS NULL AND stop.deleted_at IS NULL
     AND (stint.notes LIKE ?1 ESCAPE '!' OR presentation.name LIKE ?1 ESCAPE '!' OR lure.name LIKE ?1 ESCAPE '!'
       OR angler.name LIKE ?1 ESCAPE '!')`,
  `SELECT trip_angler.trip_id FROM trip_angler JOIN angler ON angler.id = trip_angler.angler_id
   WHERE trip_angler.deleted_at IS NULL AND angler.name LIKE ?1 ESCAPE '!'`,
] as const

const wordSql = wordSelects.join(" UNION ").replaceAll("?1", "?")
const wordPlaces = wordSql.split("?").length - 1

const like = (word: string): string => `%${word.replaceAll(/[!%_]/g, "!$&")}%`
