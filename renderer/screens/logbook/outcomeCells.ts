import type { TripPage } from "../../../shared/trips.ts"

export type PageStint = TripPage["stops"][number]["stints"][number]

/** What a stint came to, in the columns of the page; null where it was not counted. */
export type OutcomeCells = {
  readonly followed: number | null
  readonly missed: number | null
  /** Bitten off ones among them. */
  readonly lost: number | null
  readonly landed: number | null
  readonly hungUp: number | null
}

/**
 * Missed and lost are counted from the strikes, where they are known: where the core knows all strikes (or hook-ups) of the
 * stint, or where only another outcome of the trip was left uncounted.
 */
export function outcomeCells(stint: PageStint, counted: TripPage["counted"]): OutcomeCells {
  const { strikes, hook_ups, landed, follows, hang_ups, fish } = stint
  const missedKnown = strikes !== null || (counted.misses && !(counted.losses && counted.landed))
  const lostKnown = hook_ups !== null || (counted.losses && !counted.landed)
  const many = (...fates: readonly string[]) => fish.filter(({ fate }) => fates.includes(fate)).length
  return {
    followed: follows,
    missed: missedKnown ? many("missed") : null,
    lost: lostKnown ? many("lost", "bitten off") : null,
    landed,
    hungUp: hang_ups,
  }
}
