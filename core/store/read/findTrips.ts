import type { Database } from "better-sqlite3"
import { z } from "zod"
import { type FactorId, isFactorId } from "../../../shared/factors.ts"

/** An end of a range, in the unit stored. */
type Bound = { readonly value: number; readonly included: boolean }

/** Between which values; null is no limit. */
export type Range = { readonly from: Bound | null; readonly to: Bound | null }

type FactorWish =
  | { readonly factor: FactorId; readonly levels: readonly string[] }
  | { readonly factor: FactorId; readonly range: Range }

/** What one stint of a trip must have: of one of these factors one of the levels, or a value in the range. */
export type StintWish = { readonly anyOf: readonly FactorWish[] }

/** How many of them the whole trip must have had. */
export type TripCount = {
  readonly of: "landed" | "strikes" | "hook_ups" | "follows" | "hang_ups" | "rod_hours"
  /** The species alone; null is any. */
  readonly species: string | null
  readonly range: Range
}

/** A landed fish of that stint. */
export type FishSize = {
  readonly species: string | null
  readonly measure: "length_mm" | "weight_g"
  readonly range: Range
}

/** Which trips are looked for: each wish of one and the same stint, each word somewhere in the trip. */
export type TripWish = {
  readonly stint: readonly StintWish[]
  /** Names of species of which one was landed. */
  readonly species: readonly string[]
  /** Local hours between which that stint lies, from included, to excluded. */
  readonly hours: { readonly from: number; readonly to: number } | null
  readonly blank: boolean | null
  /** Whether that stint landed nothing, landed fish being counted. */
  readonly blankStint: boolean
  readonly counts: readonly TripCount[]
  readonly sizes: readonly FishSize[]
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
  for (const count of wish.counts) {
    const { sql, values: of } = countCondition(count)
    add(`trip.id IN (${sql})`, ...of)
  }
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

type Condition = { readonly sql: string; readonly values: readonly unknown[] }

function stintCondition({ stint, species, sizes, hours, blankStint }: TripWish): Condition | null {
  const parts: string[] = []
  const values: unknown[] = []
  for (const { anyOf } of stint) {
    const any = anyOf.map(factorCondition)
    parts.push(`(${any.map(({ sql }) => sql).join(" OR ")})`)
    values.push(...any.flatMap((one) => one.values))
  }
  if (hours !== null) {
    parts.push("fact.hour_local >= ? AND fact.hour_local < ?")
    values.push(hours.from, hours.to)
  }
  if (blankStint) parts.push("fact.landed = 0")
  for (const name of species) {
    parts.push(
      `fact.stint_id IN (
         SELECT strike.stint_id FROM strike JOIN species ON species.id = strike.species_id
         WHERE strike.deleted_at IS NULL AND strike.fate = 'landed' AND species.name = ?
       )`,
    )
    values.push(name)
  }
  for (const { species: name, measure, range } of sizes) {
    const within = rangeCondition(`strike.${measure}`, range)
    parts.push(
      `fact.stint_id IN (
         SELECT strike.stint_id FROM strike LEFT JOIN species ON species.id = strike.species_id
         WHERE strike.deleted_at IS NULL AND strike.fate = 'landed' AND (? IS NULL OR species.name = ?) AND ${within.sql}
       )`,
    )
    values.push(name, name, ...within.values)
  }
  return parts.length === 0 ? null : { sql: parts.join(" AND "), values }
}

function factorCondition(wish: FactorWish): Condition {
  const name = `fact.${column(wish.factor)}`
  return "levels" in wish
    ? { sql: `CAST(${name} AS TEXT) ${levelList}`, values: [JSON.stringify(wish.levels)] }
    : rangeCondition(name, wish.range)
}

/** Stored values carry what converting units left in the last digits: they are compared to a millionth. */
function rangeCondition(name: string, { from, to }: Range): Condition {
  const ends = [
    ...(from === null ? [] : [{ sign: from.included ? ">=" : ">", value: from.value }]),
    ...(to === null ? [] : [{ sign: to.included ? "<=" : "<", value: to.value }]),
  ]
  return {
    sql: `(${ends.map(({ sign }) => `round(${name}, 6) ${sign} ?`).join(" AND ")})`,
    values: ends.map(({ value }) => value),
  }
}

/**
 * Trips by what they counted. Where something was not counted throughout, or of some fish the species is not known, the sum is
 * only the least that there was: it may reach a lower end, never stay below an upper one.
 */
function countCondition({ of, species, range }: TripCount): Condition {
  const within = rangeCondition("total", range)
  const known = range.to === null ? "" : " AND known"
  const select =
    species === null
      ? `SELECT trip_id, total(${of}) AS total, count(${of}) = count(*) AS known FROM stint_fact GROUP BY trip_id`
      : `SELECT trip_id, total(ours) AS total, count(landed) = count(*) AND total(unnamed) = 0 AS known
         FROM stint_fact LEFT JOIN (
           SELECT strike.stint_id AS of_stint, sum(species.name = ?) AS ours, sum(species.name IS NULL) AS unnamed
           FROM strike LEFT JOIN species ON species.id = strike.species_id
           WHERE strike.deleted_at IS NULL AND strike.fate = 'landed'
           GROUP BY strike.stint_id
         ) ON of_stint = stint_fact.stint_id
         GROUP BY trip_id`
  return {
    sql: `SELECT trip_id FROM (${select}) WHERE ${within.sql}${known}`,
    values: [...(species === null ? [] : [species]), ...within.values],
  }
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
