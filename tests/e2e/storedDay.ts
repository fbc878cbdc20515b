import Database from "better-sqlite3"
import { z } from "zod"

const Stint = z.object({
  id: z.string(),
  start: z.string().nullable(),
  end: z.string().nullable(),
  spot: z.string().nullable(),
  presentation: z.string().nullable(),
  angler: z.string().nullable(),
  rods: z.int(),
  hang_ups: z.int().nullable(),
  follows: z.int().nullable(),
  lures_lost: z.int().nullable(),
})
const Strike = z.object({
  stint_id: z.string(),
  fate: z.string(),
  species: z.string().nullable(),
  length_mm: z.number().nullable(),
})

/** A stint of a day as it is stored: its clock by the trip's zone (after who, where several fished), codes, and what came. */
export type StoredStint = {
  readonly clock: string
  readonly spot: string | null
  readonly presentation: string | null
  readonly came: string
}

/** The stints of the latest trip in a logbook's file, in order, read from SQLite itself. */
export function storedDay(file: string): StoredStint[] {
  const db = new Database(file, { readonly: true })
  try {
    const { id: trip, zone } = z
      .object({ id: z.string(), zone: z.string() })
      .parse(
        db
          .prepare(
            "SELECT id, zone FROM trip WHERE deleted_at IS NULL ORDER BY created_at DESC, id DESC LIMIT 1",
          )
          .get(),
      )
    const stints = z.array(Stint).parse(
      db
        .prepare(
          `SELECT stint.id, stint.start_at AS start, stint.end_at AS end, spot.code AS spot,
             presentation.code AS presentation, angler.code AS angler, stint.rods, stint.hang_ups, stint.follows, stint.lures_lost
           FROM stint JOIN stop ON stop.id = stint.stop_id
           LEFT JOIN spot ON spot.id = stop.spot_id
           LEFT JOIN presentation ON presentation.id = stint.presentation_id
           LEFT JOIN angler ON angler.id = stint.angler_id
           WHERE stop.trip_id = ? AND stint.deleted_at IS NULL AND stop.deleted_at IS NULL
           ORDER BY stint.start_at, angler.code, stop.ordinal, stint.ordinal`,
        )
        .all(trip)
        .map((row) => clocked(row, zone)),
    )
    const strikes = z.array(Strike).parse(
      db
        .prepare(
          `SELECT strike.stint_id, strike.fate, species.code AS species, strike.length_mm
           FROM strike LEFT JOIN species ON species.id = strike.species_id
           WHERE strike.deleted_at IS NULL ORDER BY strike.stint_id, strike.ordinal`,
        )
        .all(),
    )
    const byStint = Map.groupBy(strikes, ({ stint_id }) => stint_id)
    const lanes = new Set(stints.map(({ angler }) => angler)).size > 1
    return stints.map((stint) => ({
      clock: `${lanes ? `${stint.angler ?? "all"} ` : ""}${stint.start ?? "?"}-${stint.end ?? "?"}${stint.rods > 1 ? ` x${stint.rods}` : ""}`,
      spot: stint.spot,
      presentation: stint.presentation,
      came: sayCame(stint, byStint.get(stint.id) ?? []),
    }))
  } finally {
    db.close()
  }
}

const Clocked = z.object({ start: z.number().nullable(), end: z.number().nullable() }).loose()

function clocked(row: unknown, zone: string): object {
  const format = new Intl.DateTimeFormat("en-GB", { timeZone: zone, hour: "numeric", minute: "2-digit" })
  const of = (at: number | null) => (at === null ? null : format.format(at))
  const { start, end, ...rest } = Clocked.parse(row)
  return { ...rest, start: of(start), end: of(end) }
}

const inches = (mm: number): string => String(Math.round((mm / 25.4) * 100) / 100)

function sayCame(stint: z.infer<typeof Stint>, strikes: readonly z.infer<typeof Strike>[]): string {
  return [
    ...strikes.map(({ fate, species, length_mm }) =>
      fate === "landed" ? `${species ?? "fish"} ${length_mm === null ? "?" : inches(length_mm)}` : fate,
    ),
    ...(stint.hang_ups ? [`${stint.hang_ups} hung up`] : []),
    ...(stint.follows ? [`${stint.follows} follows`] : []),
    ...(stint.lures_lost ? [`${stint.lures_lost} lures lost`] : []),
  ].join(", ")
}

/** The notes of all live stints in a logbook's file. */
export function notesOf(file: string): string[] {
  const db = new Database(file, { readonly: true })
  try {
    return z
      .array(z.string())
      .parse(
        db.prepare("SELECT notes FROM stint WHERE notes IS NOT NULL AND deleted_at IS NULL").pluck().all(),
      )
  } finally {
    db.close()
  }
}
