import type { ReaderUnits } from "../../shared/readerUnits.ts"
import { type EstimatedWeight, weightBy } from "../day/ownWeights.ts"
import type { OpenChange } from "../store/put.ts"
import { weighedFish } from "../store/read/species.ts"

/** Estimates weights by the logbook's own weighed fish: read, and each species' line fitted, when it is first asked for. */
export function weightsIn(
  db: OpenChange["db"],
  reader: ReaderUnits,
): (species: string, length_mm: number) => EstimatedWeight {
  let weighed: Map<string, ReturnType<typeof weighedFish>> | null = null
  const lines = new Map<string, ReturnType<typeof weightBy>>()
  return (species, length_mm) => {
    weighed ??= Map.groupBy(weighedFish(db), ({ species_id }) => species_id)
    const line = lines.get(species) ?? weightBy(weighed.get(species) ?? [], reader)
    lines.set(species, line)
    return line(length_mm)
  }
}
