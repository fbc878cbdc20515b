import { Logbook } from "../store/logbook.ts"
import { createLogbook, openLogbook, type ReadOnly } from "../store/open.ts"

/** Opens a logbook for use, only to be read where there is a reason to. Throws a ProblemError where it cannot be had. */
export const openBook = async (file: string, readOnly: ReadOnly | null = null): Promise<Logbook> =>
  new Logbook(await openLogbook(file, readOnly))

/** Makes a new, empty logbook and opens it. Throws a ProblemError when the file exists. */
export const newBook = (file: string): Logbook => new Logbook(createLogbook(file))
