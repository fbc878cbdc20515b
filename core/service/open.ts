import { Logbook } from "../store/logbook.ts"
import { createLogbook, openLogbook } from "../store/open.ts"
import { refreshConditions } from "./conditions.ts"

/** Opens a logbook for use, its computed conditions up to date. Throws a ProblemError where it cannot be had. */
export async function openBook(file: string): Promise<Logbook> {
  const book = new Logbook(await openLogbook(file))
  refreshConditions(book)
  return book
}

/** Makes a new, empty logbook and opens it. Throws a ProblemError when the file exists. */
export const newBook = (file: string): Logbook => new Logbook(createLogbook(file))
