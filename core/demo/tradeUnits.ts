import { convert } from "../../shared/units.ts"

/** What the trade of this coast measures in, as the store keeps it: mm, g and N, rounded as nobody measures finer. */
export const inches = (value: number): number => Math.round(convert(value, "in", "mm"))
export const ounces = (value: number): number => Number(convert(value, "oz", "g").toFixed(2))
export const pounds = (value: number): number => Number(convert(value, "lbf", "n").toFixed(1))
