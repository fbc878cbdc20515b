import { Logbook } from "../store/logbook.ts"
import { createLogbook, openLogbook } from "../store/open.ts"

/** Opens a logbook for use. Throws a ProblemError where it cannot be had. */
export const openBook = async (file: string): Promise<Logbook> => new Logbook(await openLogbook(file))

/** Makes a new, empty logbook and opens it. Throws a ProblemError when the file exists. */
export const newBook = (file: string): Logbook => new Logbook(createLogbook(file))
