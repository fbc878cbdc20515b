import type { OpenChange } from "./put.ts"

/** Gives the act under way its words, as they stand behind "Undo:": "5 stints pasted". `of` is the act it undoes or does again. */
export function nameAct(
  { db, batch }: OpenChange,
  said: string,
  does: { readonly does: "undo" | "redo"; readonly of: string } | null = null,
): void {
  db.prepare(
    `INSERT INTO act (batch, said, does, of) VALUES (?, ?, ?, ?)
     ON CONFLICT (batch) DO UPDATE SET said = excluded.said, does = excluded.does, of = excluded.of`,
  ).run(batch, said, does?.does ?? null, does?.of ?? null)
}
