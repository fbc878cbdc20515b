import type { Basis } from "../../../shared/questions.ts"

/** What a comparison on each basis is, as the opening of a sentence. */
export const basisWords: Record<Basis, string> = {
  raw: "As fished",
  adjusted: "With other things held alike",
  same_trip: "In the same trips",
  same_stop: "At the same stops",
}

/** The same where a model held nothing alike but the trips' own good and bad days. */
export const onlyTripsHeld = "Good and bad days allowed for"

/** What a bias-reduced fit does where nothing is held alike. */
export const drawnToMiddle = "Drawn a little towards the middle"
