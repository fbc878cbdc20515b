import { uncapital } from "../../../shared/casing.ts"
import type { Basis } from "../../../shared/questions.ts"
import { counted } from "../../../shared/figures.ts"
import type { Told } from "./basesOf.ts"

export type Lead = { readonly basis: Basis; readonly why: string }

const stopsToLead = 10
const tripsToLead = 8
const eventsToLead = 10
const tripsIfImpatient = 4

/** What the rule of leading looks at: each basis' answer for the pair, and whether the two were given unlike patience. */
export type Leading = { readonly of: (basis: Basis) => Told; readonly unlikePatience: boolean }

/**
 * Which basis leads: same stop from 10 trips with both and 10 events each in those stops; same trip from 8 trips and 10
 * events each; else the adjusted answer; else as fished. Where dry minutes differ by more than half, same trip leads over
 * adjusted from 4 trips on. The rule is ours, and never looks at what came out. A basis
 * is asked for only where it may lead.
 */
export function leadingBasis({ of, unlikePatience }: Leading): Lead {
  const enough = (told: Told, trips: number): boolean =>
    told.told && told.shared !== null && told.shared.trips >= trips && least(told) >= eventsToLead
  const holding = (told: Told) => counted(told.shared?.trips ?? 0, "trip")
  const stop = of("same_stop")
  if (enough(stop, stopsToLead))
    return {
      basis: "same_stop",
      why: `${holding(stop)} hold stops with both: the same water in the same half hour is the fairest place to compare.`,
    }
  const trip = of("same_trip")
  if (enough(trip, tripsToLead))
    return {
      basis: "same_trip",
      why: `${holding(trip)} hold both, too few of them at the same stop: good and bad days cancel out within a trip.`,
    }
  if (unlikePatience && trip.told && (trip.shared?.trips ?? 0) >= tripsIfImpatient)
    return {
      basis: "same_trip",
      why: "One was fished much longer without a strike before it was changed, which bends every other comparison more.",
    }
  const adjusted = of("adjusted")
  if (adjusted.told)
    return {
      basis: "adjusted",
      why: `${trip.told ? "Too few trips hold both" : trip.why}: they are compared over all trips, with other things held alike.`,
    }
  return { basis: "raw", why: `As fished: ${reason(adjusted)}.` }
}

const least = ({ shared }: Told): number => Math.min(shared?.eventsA ?? 0, shared?.eventsB ?? 0)

const reason = (told: Told): string =>
  told.told || told.why === "" ? "nothing else is held alike" : uncapital(told.why)
