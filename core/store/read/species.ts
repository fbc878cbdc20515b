import type { Database } from "better-sqlite3"
import { z } from "zod"
import { entities, stamps } from "../../../shared/entities.ts"

const Row = entities.species.omit(stamps).extend({ id: z.string(), landed: z.int() })

/** Every species, by name, with how many were landed. */
export const speciesWithUse = (db: Database): z.infer<typeof Row>[] =>
  z.array(Row).parse(
    db
      .prepare(
        `SELECT species.*, (
           SELECT count(*) FROM strike JOIN stint ON stint.id = strike.stint_id
           WHERE strike.species_id = species.id AND strike.fate = 'landed' AND strike.deleted_at IS NULL
             AND stint.deleted_at IS NULL
         ) AS landed
         FROM species WHERE deleted_at IS NULL ORDER BY name COLLATE NOCASE`,
      )
      .all(),
  )

const Weighed = z.object({ species_id: z.string(), length_mm: z.number(), weight_g: z.number() })

/** Landed fish that were both measured and weighed, on trips that stand. */
export const weighedFish = (db: Database): z.infer<typeof Weighed>[] =>
  z.array(Weighed).parse(
    db
      .prepare(
        `SELECT strike.species_id, strike.length_mm, strike.weight_g
         FROM strike
         JOIN stint ON stint.id = strike.stint_id AND stint.deleted_at IS NULL
         JOIN stop ON stop.id = stint.stop_id AND stop.deleted_at IS NULL
         JOIN trip ON trip.id = stop.trip_id AND trip.deleted_at IS NULL
         WHERE strike.deleted_at IS NULL AND strike.fate = 'landed' AND strike.species_id IS NOT NULL
           AND strike.length_mm IS NOT NULL AND strike.weight_g IS NOT NULL`,
      )
      .all(),
  )
