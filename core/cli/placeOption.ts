import { readCoordinates } from "../conditions/coordinates.ts"
import type { Place } from "../conditions/place.ts"
import type { Values } from "./arguments.ts"
import { UsageError } from "./usage.ts"

/** The place named by `--lat` and `--lon`, or by `--at` in any notation; null where there is none. Throws a ProblemError. */
export function placeOption({ lat, lon, at }: Values): Place | null {
  if ((lat === undefined) !== (lon === undefined)) throw new UsageError("Give --lat and --lon together.")
  if (typeof lat === "string" && typeof lon === "string") return readCoordinates(`${lat}, ${lon}`)
  return typeof at === "string" ? readCoordinates(at) : null
}
