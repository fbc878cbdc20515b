import type { DayStint, DayStrike } from "../../../shared/day.ts"
import { add, type OpenChange, removeById } from "../../store/put.ts"
import { cellsKey } from "../../tape/canonical.ts"
import { align } from "../align.ts"
import { ascending, moved, type OrdinalOf } from "../ordinals.ts"
import { differing, patch } from "../patch.ts"

const strikeColumns = [
  "fate",
  "species_id",
  "at",
  "took_on",
  "length_mm",
  "weight_g",
  "kept",
  "hooked_where",
] as const

/** Where the wanted day has its strikes: by id the stint's place; and the ids that new ones were stored under. */
export type StrikeHomes = {
  readonly of: ReadonlyMap<string, number>
  /** Filled as strikes are made: the store's id by the draft's own. */
  readonly made: Map<string, string>
  /** Filled as strikes are removed. */
  readonly gone: Set<string>
}

export const strikeHomes = (stints: readonly DayStint[]): StrikeHomes => ({
  of: new Map(
    stints.flatMap(({ strikes }, at) =>
      strikes.flatMap(({ id }) => (id === null ? [] : [[id, at] as const])),
    ),
  ),
  made: new Map(),
  gone: new Set(),
})

/**
 * Makes a stint's strikes those wanted; `at` is its place in the wanted day. A strike that comes from another stint keeps its
 * row. Returns whether anything was changed.
 */
export function putStrikes(
  change: OpenChange,
  before: DayStint,
  { after, at: place }: { readonly after: DayStint; readonly at: number },
  ordinalOf: OrdinalOf,
  homes: StrikeHomes,
): boolean {
  const keyOf = (strike: DayStrike): string => cellsKey({ ...strike, id: null })
  const stay = before.strikes.filter(({ id }) => id === null || (homes.of.get(id) ?? place) === place)
  const isFromElsewhere = ({ id }: DayStrike): boolean =>
    id !== null && ordinalOf(id) !== null && stay.every((strike) => strike.id !== id)
  const own = after.strikes.filter((strike) => !isFromElsewhere(strike))
  const foundOwn = align(
    stay,
    own,
    ({ id }) => id,
    keyOf,
    (one, other) => one.fate === other.fate && one.species_id === other.species_id,
  )
  const old = after.strikes.map((strike) => stay[foundOwn[own.indexOf(strike)] ?? -1] ?? null)
  const ordinals = ascending(old.map((strike) => ordinalOf(strike?.id ?? null)))
  let changed = stay.length < before.strikes.length
  for (const [j, strike] of after.strikes.entries()) {
    const { id, ...cells } = strike
    const known = old[j] ?? null
    const ordinal = ordinals[j] ?? j
    if (known?.id != null) {
      const differs = { ...differing(known, strike, strikeColumns), ...moved(ordinalOf(known.id), ordinal) }
      if (patch(change, "strike", known.id, differs)) changed = true
    } else if (id !== null && isFromElsewhere(strike)) {
      patch(change, "strike", id, { ...cells, stint_id: before.id ?? "", ordinal })
      changed = true
    } else {
      const made = add(change, "strike", { ...cells, stint_id: before.id ?? "", ordinal })
      if (id !== null) homes.made.set(id, made)
      changed = true
    }
  }
  for (const [at, { id }] of stay.entries())
    if (id !== null && !foundOwn.includes(at)) {
      removeById(change, "strike", id)
      homes.gone.add(id)
      changed = true
    }
  return changed
}
