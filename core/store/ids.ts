import { randomFillSync } from "node:crypto"
import { v7 } from "uuid"

/** Random bytes drawn ahead: asking the system for sixteen at a time costs more than everything else about an id. */
const pool = new Uint8Array(16 * 1024)
let used = pool.length
let millisecond = 0
let sequence = 0

/** A new UUIDv7 key. Keys made one after the other sort in that order, also within a millisecond. */
export function newId(): string {
  if (used === pool.length) {
    randomFillSync(pool)
    used = 0
  }
  const random = pool.subarray(used, used + 16)
  used += 16
  const now = Date.now()
  if (now > millisecond) {
    millisecond = now
    sequence = 0
  } else {
    sequence += 1
  }
  return v7({ random, msecs: millisecond, seq: sequence })
}
