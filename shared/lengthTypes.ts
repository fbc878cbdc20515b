import type { LengthType } from "./vocabulary.ts"

/**
 * How a fish is measured, by the type of its length. Source: terminology of the FAO Species Identification Guides and rule
 * texts of NOAA Fisheries (from memory), in our own words.
 */
export const lengthTypeMeaning: Readonly<Record<LengthType, string>> = {
  total: "from the tip of the closed snout to the end of the tail, its lobes squeezed together",
  fork: "from the tip of the snout to the middle of the fork of the tail",
}
