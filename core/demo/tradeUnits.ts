import { convert, type UnitId } from "../../shared/units.ts"

/** What the trade of this coast measures in, as the store keeps it: mm, g and N, weights and strengths no finer than they are sold. */
export const inches = (value: number): number => convert(value, "in", "mm")
export const ounces = (value: number): number => Number(convert(value, "oz", "g").toFixed(2))
export const pounds = (value: number): number => Number(convert(value, "lbf", "n").toFixed(1))

/** A reading to a step of the unit in which this coast's boats write it, kept as it would be if it were typed. */
export const readTo = (value: number, kept: UnitId, { unit, step }: { unit: UnitId; step: number }): number =>
  convert(Number((Math.round(convert(value, kept, unit) / step) * step).toFixed(2)), unit, kept)
