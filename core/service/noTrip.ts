import { ProblemError } from "../../shared/problems.ts"

/** What is said of a trip that is not there, or not any more. */
export const noTrip = (trip: string): ProblemError =>
  new ProblemError("bad_input", "That trip is no longer in this logbook. Go back to the list of trips.", {
    trip,
  })
