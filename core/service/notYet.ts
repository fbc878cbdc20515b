import type { BookHandlers } from "../../shared/api.ts"
import { ProblemError } from "../../shared/problems.ts"

const refuse = (): Promise<never> =>
  Promise.reject(new ProblemError("unknown_method", "This is being built and cannot be done yet.", {}))

/** Methods of the contract whose handlers are not there yet. */
export const notYet = {
  "trips.find": refuse,
} satisfies Partial<BookHandlers>
