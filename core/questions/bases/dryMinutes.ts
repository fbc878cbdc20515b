import type { Facts } from "../../facts.ts"
import { isOfTackle, type FactorId } from "../../../shared/factors.ts"
import type { Group } from "../gather.ts"

/** How long a level was fished without a strike before it was changed: the mean of its dry stints, in minutes by the clock. */
export type DryMinutes = { readonly label: string; readonly minutes: number; readonly stints: number }

/** Whether the factor is of what an angler changes, or leaves, because nothing bites: tackle, how it is worked, and the spot. */
export const isChangedWhenSlow = (by: FactorId): boolean => isOfTackle(by) || by === "spot"

/** Differences above this are large enough to bend an answer. */
const moreThanHalf = 1.5
/** Fewer dry stints tell nothing. Ours. */
const leastStints = 5

/** Dry minutes of a level: stints of its own effort (not shared with others) without a strike, or without a fish where
 *  strikes were not counted; null where there are too few. */
export function dryMinutes(facts: Facts, { label, rows }: Group): DryMinutes | null {
  const dry = rows.filter((stint) => {
    const strikes = facts.strikes[stint] ?? Number.NaN
    const blank = Number.isNaN(strikes) ? facts.landed[stint] === 0 : strikes === 0
    return blank && (facts.minutes[stint] ?? 0) > 0
  })
  if (dry.length < leastStints) return null
  const sum = dry.reduce((total, stint) => total + (facts.minutes[stint] ?? 0), 0)
  return { label, minutes: sum / dry.length, stints: dry.length }
}

/** Whether two levels were given unlike patience: dry minutes that differ by more than half. */
export function unlikePatience(a: DryMinutes | null, b: DryMinutes | null): boolean {
  if (a === null || b === null) return false
  const ratio = a.minutes / b.minutes
  return ratio > moreThanHalf || ratio < 1 / moreThanHalf
}
