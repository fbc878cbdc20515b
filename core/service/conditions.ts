import { computeConditions, conditionsMethod } from "../conditions/compute.ts"
import { dropWorkedOut, hasOtherMethod, stintsWithoutConditions, workedOutWriter } from "../store/computed.ts"
import type { Logbook } from "../store/logbook.ts"
import type { OpenChange } from "../store/put.ts"

/** Works out the conditions of every stint that has none yet, inside the caller's transaction. */
export function workOutConditions({ db }: OpenChange): void {
  const store = workedOutWriter(db, conditionsMethod)
  for (const { id, lat, lon, ...when } of stintsWithoutConditions(db)) {
    const place = lat === null || lon === null ? null : { lat, lon }
    const conditions = computeConditions({ ...when, place })
    if (conditions !== null) store(id, conditions)
  }
}

/** Works all conditions out again from place and time. What was imported stays as it is. */
export function rebuildConditions(book: Logbook): void {
  book.change((change) => {
    dropWorkedOut(change.db)
    workOutConditions(change)
  })
}

/** Rebuilds the conditions where another version worked them out by another method. */
export function refreshConditions(book: Logbook): void {
  if (!book.readOnly && book.read((db) => hasOtherMethod(db, conditionsMethod))) rebuildConditions(book)
}
