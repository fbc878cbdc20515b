import type { GridEdit } from "../../shared/sheet.ts"
import type { Logbook } from "../store/logbook.ts"
import type { OpenChange } from "../store/put.ts"

/** What one act of edits came to. */
export type ActDone = {
  /** What undoes it, and its words; null where nothing had to change. */
  readonly act: string | null
  readonly said: string | null
  readonly added: readonly string[]
  readonly told: readonly string[]
}
type Acts<C extends string> = {
  readonly edits: readonly GridEdit<C>[]
  readonly further?: readonly (readonly GridEdit<C>[])[] | undefined
}
type AllDone = {
  act: string | null
  said: string | null
  added: string[]
  named: Record<string, string>
  told: string[]
}

/** Carries out the acts of one call one after the other, each a change of its own, so that each is undone by itself. */
export function runActs<C extends string>(
  book: Logbook,
  { edits, further = [] }: Acts<C>,
  one: (open: OpenChange, edits: readonly GridEdit<C>[]) => ActDone,
): AllDone {
  const ids = new Map<string, string>()
  const all: AllDone = { act: null, said: null, added: [], named: {}, told: [] }
  for (const act of [edits, ...further]) {
    const done = book.change((open) =>
      one(
        open,
        act.map((edit) => withIds(edit, ids)),
      ),
    )
    const [name] = act.flatMap((edit) => (edit.do === "add" && edit.as !== undefined ? [edit.as] : []))
    const [made] = done.added
    if (name !== undefined && made !== undefined) ids.set(name, made)
    all.added.push(...done.added)
    all.told.push(...done.told)
    if (done.act !== null) Object.assign(all, { act: done.act, said: done.said })
  }
  return { ...all, named: Object.fromEntries(ids) }
}

/** An edit by the store's ids of rows that an act before it made. */
function withIds<C extends string>(edit: GridEdit<C>, ids: ReadonlyMap<string, string>): GridEdit<C> {
  const now = (row: string): string => ids.get(row) ?? row
  switch (edit.do) {
    case "set":
      return { ...edit, row: now(edit.row) }
    case "add":
      return typeof edit.after === "string" ? { ...edit, after: now(edit.after) } : edit
    case "remove":
    case "fill":
      return { ...edit, rows: edit.rows.map(now) }
    case "paste":
      return {
        ...edit,
        row: edit.row === null ? null : now(edit.row),
        ...(edit.after === undefined ? {} : { after: now(edit.after) }),
      }
  }
}
