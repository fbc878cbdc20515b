import { z } from "zod"
import { add, put, removeById, rowById, type OpenChange } from "./put.ts"

const Id = z.object({ id: z.string() }).optional()

/**
 * Keeps a setting under its key, or forgets it where `value` is null. Returns whether that changed anything. A key has one
 * row, forgotten or not, so that undoing sees every later change of it.
 */
export function putSetting(change: OpenChange, key: string, value: string | null): boolean {
  const found = change.db.prepare("SELECT id FROM setting WHERE key = ? ORDER BY deleted_at LIMIT 1").get(key)
  const id = Id.parse(found)?.id
  const before = id === undefined ? null : rowById(change.db, "setting", id)
  const standing = before === null || before.deleted_at !== null ? null : before.value
  if (value === standing) return false
  if (value === null) {
    if (before !== null) removeById(change, "setting", before.id)
  } else if (before === null) add(change, "setting", { key, value })
  else put(change, "setting", { ...before, value, deleted_at: null })
  return true
}
