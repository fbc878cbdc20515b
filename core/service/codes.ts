import type { Handlers } from "../../shared/api.ts"
import type { Coded, CodeKind, CodeVerdict, CodeWish } from "../../shared/codes.ts"
import { ProblemError } from "../../shared/problems.ts"
import { codeProblem, inListOrder, judgeCodes, markProblem } from "../codes.ts"
import type { Logbook } from "../store/logbook.ts"
import type { OpenChange } from "../store/put.ts"
import { codedRows } from "../store/read/codes.ts"
import type { Queue } from "./queue.ts"

type Area = Pick<Handlers, "codes.list" | "codes.check">

/** The user's own codes: one name space of spots, presentations, species and anglers. */
export const codeHandlers = (book: Logbook, queue: Queue): Area => ({
  "codes.list": () => queue(async () => inListOrder(book.read(livingCodes))),
  "codes.check": (wish) => queue(async () => judgeCodes(wish, book.read(livingCodes))),
})

/** What could be named by a code now. */
export const livingCodes = (db: OpenChange["db"]): Coded[] =>
  codedRows(db).flatMap(({ deleted, ...row }) => (deleted ? [] : [row]))

/** A free code for a name, and a free mark where it is a presentation's. */
export const suggestedCodes = (
  db: OpenChange["db"],
  { kind, name }: Pick<CodeWish, "kind" | "name">,
): CodeVerdict["suggested"] =>
  judgeCodes({ kind, name, id: null, code: null, mark: null }, livingCodes(db)).suggested

/**
 * To be asked by everyone who gives a code or a mark, inside the same change. Throws ProblemError "bad_input" where it is taken,
 * a word of the tape, or no code; null is none.
 */
export function requireCodes(
  { db }: OpenChange,
  id: string | null,
  {
    code = null,
    mark = null,
    kind = null,
  }: { readonly code?: string | null; readonly mark?: string | null; readonly kind?: CodeKind | null },
): void {
  const all = livingCodes(db)
  const problem =
    (code === null ? null : codeProblem(code, kind, id, all)) ??
    (mark === null ? null : markProblem(mark, id, all))
  if (problem !== null) throw new ProblemError("bad_input", problem, { code, mark })
}
