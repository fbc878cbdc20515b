import { wallClock } from "../conditions/localClock.ts"

/** The local date in a zone now, or some days from now. */
export const today = (zone: string, now = Date.now()): string => wallClock(now, zone).date
