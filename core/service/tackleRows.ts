import type { Entity, Row } from "../../shared/entities.ts"
import { ProblemError } from "../../shared/problems.ts"
import type { TacklePart, TackleParts } from "../../shared/tackle.ts"
import { add, type OpenChange, rowById } from "../store/put.ts"
import { classesListed } from "../store/read/tackle.ts"

/** What rounding to a hundredth of a gram does to the smallest head, as a part of it. */
const alike = 0.005

/** Whether two sets of parts agree in `among`; weights and lengths that differ by rounding only are the same. */
export function sameParts(a: TackleParts, b: TackleParts, among: readonly TacklePart[]): boolean {
  return among.every((part) => {
    const [one, other] = [a[part], b[part]]
    if (typeof one === "number" && typeof other === "number")
      return Math.abs(one - other) <= alike * Math.max(Math.abs(one), Math.abs(other))
    return one === other
  })
}

/** The lure class of a name, made where the logbook has none. */
export const classOf = (open: OpenChange, name: string): string =>
  classesListed(open.db).find((one) => one.name.toLowerCase() === name.toLowerCase())?.id ??
  add(open, "lure_class", { name })

/** A live row. Throws ProblemError "bad_input" where there is none. */
export function wantedRow<E extends Entity>(db: OpenChange["db"], entity: E, id: string): Row<E> {
  const row = rowById(db, entity, id)
  if (row === null || row.deleted_at !== null)
    throw new ProblemError("bad_input", `There is no ${entity.replaceAll("_", " ")} ${id} in this logbook.`, {
      id,
    })
  return row
}
