import type { Day } from "../../shared/day.ts"
import { type Reconciled, reconcileDay } from "../day/reconcile.ts"
import { changedAnything } from "../day/words.ts"
import { nameAct } from "../store/nameAct.ts"
import type { OpenChange } from "../store/put.ts"
import type { TapeDay } from "../tape/reader.ts"

/** What became of an edited day's rows; the act that undoes it and its words, null where nothing had to change. */
export type KeptEdits = {
  readonly done: Reconciled
  readonly act: string | null
  readonly said: string | null
}

/** Keeps a day as edits left it, as one act in the words of `say`; `stored` is the day that they began from. */
export function keepEdited(
  open: OpenChange,
  { trip, stored, wanted }: { readonly trip: string; readonly stored: Day; readonly wanted: TapeDay },
  how: "tape" | "sheet",
  say: (done: Reconciled) => string,
): KeptEdits {
  const done = reconcileDay(open, trip, stored, wanted, how)
  if (!changedAnything(done)) return { done, act: null, said: null }
  const said = say(done)
  nameAct(open, said)
  return { done, act: open.batch, said }
}
