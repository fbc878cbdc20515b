import { limitCaution } from "../../shared/fish.ts"
import { quantityText, type ReaderUnits } from "../../shared/readerUnits.ts"
import type { Row } from "../../shared/entities.ts"

type Limits = Pick<
  Row<"species">,
  | "name"
  | "length_type"
  | "own_min_length_mm"
  | "own_max_length_mm"
  | "own_bag"
  | "limit_source"
  | "limit_date"
>

/** The user's own note of a species' sizes and bag with its date, and that the local agency's rules govern; null where there is none. */
export function sayLimits(species: Limits, reader: ReaderUnits): string | null {
  const { own_min_length_mm: least, own_max_length_mm: most, own_bag: bag } = species
  const length = (mm: number): string => quantityText(mm, "mm", reader)
  const type = species.length_type === null ? "" : ` ${species.length_type} length`
  const parts = [
    least === null && most === null
      ? null
      : most === null
        ? `from ${length(least ?? 0)}${type}`
        : least === null
          ? `up to ${length(most)}${type}`
          : `${length(least)} to ${length(most)}${type}`,
    bag === null ? null : `${bag} a day`,
  ].filter((part) => part !== null)
  if (parts.length === 0) return null
  const from = [species.limit_source, species.limit_date].filter((part) => part !== null).join(", ")
  return `${species.name}: ${parts.join(", ")}${from === "" ? "" : ` (${from})`}. ${limitCaution}`
}
