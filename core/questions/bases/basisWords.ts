import type { Basis } from "../../../shared/questions.ts"
import type { Pair } from "../pairs.ts"
import { isAdjusted, type Adjusted, type NotAdjusted } from "./adjusted.ts"

/** What a comparison on each basis is, as the opening of a sentence. */
export const basisWords: Record<Basis, string> = {
  raw: "As fished",
  adjusted: "With other things held alike",
  same_trip: "In the same trips",
  same_stop: "At the same stops",
}

/** The same where a model held nothing alike but the trips' own good and bad days. */
const onlyTripsHeld = "Good and bad days allowed for"

/** What a bias-reduced fit does where nothing is held alike. */
const drawnToMiddle = "Drawn a little towards the middle"

/** What the adjusted basis is for a pair, as the opening of a sentence. */
export function adjustedWords(adjusted: Adjusted | NotAdjusted | null, { a, b }: Pair): string {
  if (adjusted === null || adjusted.held.length > 0) return basisWords.adjusted
  const drawn = isAdjusted(adjusted) && [a, b].some(({ label }) => adjusted.biasReduced(label))
  return drawn ? drawnToMiddle : onlyTripsHeld
}
