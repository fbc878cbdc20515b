import type { Database } from "better-sqlite3"
import { z } from "zod"

const word = z.string().nullable()
const amount = z.number().nullable()
const Parts = z.object({
  id: z.string(),
  name: z.string(),
  lure_id: word,
  rig_id: word,
  retrieve_id: word,
  lure_class: word,
  lure: word,
  profile: word,
  lure_length_mm: amount,
  colour: word,
  scented: word,
  lure_sound: word,
  imitates: word,
  head_weight_g: amount,
  hook_shank: word,
  hook_style: word,
  cork_shape: word,
  cork_sound: word,
  cork_drop_mm: amount,
  leader_length_mm: amount,
  leader_strength_n: amount,
  sink: word,
  retrieve_style: word,
  bait: word,
  actions_per_cycle: amount,
  pause_s: amount,
  pace: word,
  rhythm: word,
  line: word,
  water_column: word,
})

/** A presentation with its lure, rig and retrieve spread out by factor. */
export type PresentationParts = z.infer<typeof Parts>

/** All live presentations, part by part. */
export function presentationParts(db: Database): PresentationParts[] {
  return z.array(Parts).parse(
    db
      .prepare(
        `SELECT presentation.id, presentation.name, lure_id, rig_id, retrieve_id, lure_class.name AS lure_class, lure.name AS lure, lure.profile,
           lure.lure_length_mm, lure.colour, lure.scented, lure.lure_sound, lure.imitates,
           rig.head_weight_g, rig.hook_shank, rig.hook_style, rig.cork_shape, rig.cork_sound, rig.cork_drop_mm,
           rig.leader_length_mm, rig.leader_strength_n, rig.sink, retrieve.retrieve_style, rig.bait,
           retrieve.actions_per_cycle, retrieve.pause_s, retrieve.pace, retrieve.rhythm, retrieve.line,
           retrieve.water_column
         FROM presentation
         LEFT JOIN lure ON lure.id = presentation.lure_id
         LEFT JOIN lure_class ON lure_class.id = lure.lure_class_id
         LEFT JOIN rig ON rig.id = presentation.rig_id
         LEFT JOIN retrieve ON retrieve.id = presentation.retrieve_id
         WHERE presentation.deleted_at IS NULL`,
      )
      .all(),
  )
}
