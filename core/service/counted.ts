import { z } from "zod"
import type { DayHead } from "../../shared/day.ts"
import type { HeadChange } from "../../shared/tripActs.ts"
import type { OpenChange } from "../store/put.ts"
import { putSetting } from "../store/putSetting.ts"
import { settingOf } from "../store/read/names.ts"

const flag = z.union([z.literal(0), z.literal(1)])
const Counted = z.object({
  counted_misses: flag,
  counted_losses: flag,
  counted_follows: flag,
  counted_hang_ups: flag,
  counted_landed: flag,
})
type Counted = z.infer<typeof Counted>

/** What most count: follows are often seen and seldom counted. */
const usual: Counted = {
  counted_misses: 1,
  counted_losses: 1,
  counted_follows: 0,
  counted_hang_ups: 1,
  counted_landed: 1,
}

const keyOf = (angler: string): string => `counted:${angler}`

/** What an angler counted last, as a new trip takes it over. */
export function countedFor(db: OpenChange["db"], angler: string | null): Counted {
  const kept = angler === null ? null : settingOf(db, keyOf(angler))
  const read = Counted.safeParse(kept === null ? null : JSON.parse(kept))
  return read.success ? read.data : usual
}

/** Remembers for the trip's first angler what was counted, where that was changed. */
export function rememberCounted(open: OpenChange, head: DayHead, changes: HeadChange): void {
  const [angler] = head.anglers
  if (angler === undefined || !Object.keys(changes).some((column) => column in usual)) return
  putSetting(open, keyOf(angler), JSON.stringify(Counted.parse(head)))
}
