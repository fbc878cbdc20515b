import type { Database } from "better-sqlite3"
import { z } from "zod"
import { AnglerListed } from "../../../shared/anglers.ts"

/** Every angler, by name, with how many stints name him. */
export const anglersListed = (db: Database): AnglerListed[] =>
  z.array(AnglerListed).parse(
    db
      .prepare(
        `SELECT id, name, code, notes, (SELECT count(*) FROM stint
           WHERE stint.angler_id = angler.id AND stint.deleted_at IS NULL) AS stints
         FROM angler WHERE deleted_at IS NULL ORDER BY name COLLATE NOCASE`,
      )
      .all(),
  )
