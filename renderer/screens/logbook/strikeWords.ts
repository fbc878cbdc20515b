import { quantityText, type ReaderUnits } from "../../../shared/readerUnits.ts"
import type { Clock } from "../../charts/clock.ts"
import type { PageStint } from "./outcomeCells.ts"

/** A strike with all that is known of it: "landed: red drum, 5:03 PM, 17.1 in total length, on the pause". */
export function sayStrike(strike: PageStint["fish"][number], clock: Clock, units: ReaderUnits): string {
  const { fate, species, at, length_mm, length_type, weight_g, estimated, took_on, kept } = strike
  const known = [
    species,
    at === null ? null : clock.time(at),
    length_mm === null
      ? null
      : `${quantityText(length_mm, "mm", units)}${length_type === null ? "" : ` ${length_type} length`}`,
    weight_g === null ? null : quantityText(weight_g / 1000, "kg", units),
    estimated === null
      ? null
      : `${quantityText(estimated.weight_g / 1000, "kg", units)} estimated from ${estimated.fish} weighed fish, not weighed`,
    took_on === null ? null : `on the ${took_on}`,
    kept === null ? null : kept ? "kept" : "released",
  ].filter((part) => part !== null)
  return known.length === 0 ? fate : `${fate}: ${known.join(", ")}`
}
