import { counted, listed } from "../../shared/figures.ts"
import type { Reconciled } from "./reconcile.ts"

type Done = Pick<Reconciled, "stints" | "readings" | "others">

/** Whether anything was written at all. */
export const changedAnything = ({ stints, readings, others }: Done): boolean =>
  others + [stints, readings].reduce((sum, { made, changed, removed }) => sum + made + changed + removed, 0) >
  0

/** What an edit did, as undo says it: "10 stints typed", "2 stints and 1 reading changed". `made` is the word for new stints. */
export function sayDone({ stints, readings }: Done, made: string): string {
  const parts = [
    ...(stints.made > 0 ? [`${counted(stints.made, "stint")} ${made}`] : []),
    ...(stints.changed > 0 ? [`${counted(stints.changed, "stint")} changed`] : []),
    ...(stints.removed > 0 ? [`${counted(stints.removed, "stint")} removed`] : []),
    ...sayReadings(readings),
  ]
  return parts.length === 0 ? "day changed" : listed(parts, 5)
}

function sayReadings({ made, changed, removed }: Done["readings"]): string[] {
  const touched = made + changed
  return [
    ...(touched > 0 ? [`${counted(touched, "reading")} noted`] : []),
    ...(removed > 0 ? [`${counted(removed, "reading")} removed`] : []),
  ]
}
