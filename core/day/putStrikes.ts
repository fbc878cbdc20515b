import type { DayStint, DayStrike } from "../../shared/day.ts"
import { add, type OpenChange, removeById } from "../store/put.ts"
import { cellsKey } from "../tape/canonical.ts"
import { align } from "./align.ts"
import { ascending, moved, type OrdinalOf } from "./ordinals.ts"
import { differing, patch } from "./patch.ts"

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

/** Makes a stint's strikes those wanted. Returns whether anything was changed. */
export function putStrikes(
  change: OpenChange,
  before: DayStint,
  after: DayStint,
  ordinalOf: OrdinalOf,
): boolean {
  const keyOf = (strike: DayStrike): string => cellsKey({ ...strike, id: null })
  const found = align(
    before.strikes,
    after.strikes,
    ({ id }) => id,
    keyOf,
    (one, other) => one.fate === other.fate && one.species_id === other.species_id,
  )
  const ordinals = ascending(found.map((at) => ordinalOf(before.strikes[at]?.id ?? null)))
  let changed = false
  for (const [j, strike] of after.strikes.entries()) {
    const old = before.strikes[found[j] ?? -1]
    const ordinal = ordinals[j] ?? j
    if (old?.id == null) {
      const { id: _, ...cells } = strike
      add(change, "strike", { ...cells, stint_id: before.id ?? "", ordinal })
      changed = true
      continue
    }
    const cells = { ...differing(old, strike, strikeColumns), ...moved(ordinalOf(old.id), ordinal) }
    if (patch(change, "strike", old.id, cells)) changed = true
  }
  for (const [at, { id }] of before.strikes.entries())
    if (id !== null && !found.includes(at)) {
      removeById(change, "strike", id)
      changed = true
    }
  return changed
}
