import type { AnglerChange } from "../../shared/anglers.ts"
import type { Handlers } from "../../shared/api.ts"
import { entities } from "../../shared/entities.ts"
import { ProblemError } from "../../shared/problems.ts"
import type { Logbook } from "../store/logbook.ts"
import { add, put, rowById, type OpenChange } from "../store/put.ts"
import { anglersListed } from "../store/read/anglers.ts"
import { requireCodes } from "./codes.ts"
import type { Queue } from "./queue.ts"

type Area = Pick<Handlers, "anglers.list" | "anglers.save">

/** Who fishes: names and codes. */
export const anglerHandlers = (book: Logbook, queue: Queue, change: Queue): Area => ({
  "anglers.list": () => queue(async () => book.read(anglersListed)),
  "anglers.save": (wanted) =>
    change(async () => book.change((open) => ({ id: saveAngler(open, wanted), act: open.batch }))),
})

function saveAngler(open: OpenChange, { id, ...wanted }: AnglerChange): string {
  const before = id === undefined ? null : rowById(open.db, "angler", id)
  const row = { ...before, ...wanted }
  const { name } = row
  if (name === undefined) throw new ProblemError("bad_input", "A new angler needs a name.", {})
  const namesake = anglersListed(open.db).find((one) => one.name.toLowerCase() === name.toLowerCase())
  if (namesake !== undefined && namesake.id !== id)
    throw new ProblemError("bad_input", `There is an angler ${name} already.`, { name })
  requireCodes(open, id ?? null, { code: wanted.code ?? null })
  if (before === null) return add(open, "angler", { ...row, name })
  return put(open, "angler", entities.angler.parse({ ...row, name })).id
}
