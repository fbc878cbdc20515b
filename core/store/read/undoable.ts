import type { Database } from "better-sqlite3"
import { z } from "zod"

const Batch = z.object({
  batch: z.string(),
  does: z.enum(["undo", "redo"]).nullable(),
  of: z.string().nullable(),
})

/** The act that undo would take back now, and the undoing that redo would take back. */
export type Undoable = {
  readonly undo: string | null
  /** The act to be done again, and the act that undid it last. */
  readonly redo: { readonly act: string; readonly undoneBy: string } | null
}

/**
 * What undo and redo stand at, read from the history alone, so that it survives a restart: undo takes back the latest act that
 * is not undone, redo does the act again that was undone last, unless something else was done since.
 */
export function undoable(db: Database): Undoable {
  const rows = db
    .prepare(
      `SELECT latest.batch, act.does, act.of
       FROM (SELECT DISTINCT batch FROM change ORDER BY batch DESC) AS latest
       LEFT JOIN act ON act.batch = latest.batch
       ORDER BY latest.batch DESC`,
    )
    .iterate()
  /** What was last done with an act: undone, or done again. */
  const state = new Map<string, "undo" | "redo">()
  let redo: Undoable["redo"] = null
  let since = true
  for (const row of rows) {
    const { batch, does, of } = Batch.parse(row)
    if (does !== null && of !== null) {
      if (state.has(of)) continue
      state.set(of, does)
      if (does === "undo" && since && redo === null) redo = { act: of, undoneBy: batch }
      continue
    }
    since = false
    if (state.get(batch) !== "undo") return { undo: batch, redo }
  }
  return { undo: null, redo }
}

/** Which act an act of undoing or redoing was about; itself where it is neither. */
export function actBehind(db: Database, batch: string): { act: string; does: "undo" | "redo" | null } {
  const row = db.prepare("SELECT batch, does, of FROM act WHERE batch = ?").get(batch)
  if (row === undefined) return { act: batch, does: null }
  const { does, of } = Batch.parse(row)
  return { act: of ?? batch, does }
}
