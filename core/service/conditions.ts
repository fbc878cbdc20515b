import { computeConditions, conditionsMethod } from "../conditions/compute.ts"
import { dropWorkedOut, hasOtherMethod, stintTimes, storeWorkedOut } from "../store/computed.ts"
import type { Logbook } from "../store/logbook.ts"

/** Works all conditions out again from place and time. What was imported stays as it is. */
export function rebuildConditions(book: Logbook): void {
  book.change(({ db }) => {
    dropWorkedOut(db)
    for (const { id, ...when } of stintTimes(db)) {
      const conditions = computeConditions(when)
      if (conditions !== null) storeWorkedOut(db, id, conditionsMethod, conditions)
    }
  })
}

/** Rebuilds the conditions where another version worked them out by another method. */
export function refreshConditions(book: Logbook): void {
  if (!book.readOnly && book.read((db) => hasOtherMethod(db, conditionsMethod))) rebuildConditions(book)
}
