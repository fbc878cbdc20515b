import { backedUpOn, backUpFile, dayOf } from "../store/backup.ts"
import type { Logbook } from "../store/logbook.ts"
import { hasHistory } from "../store/read/info.ts"
import { problemOf } from "../../shared/rpc.ts"

/**
 * Makes the function that backs a logbook up before the first change of a day, and does nothing the rest of it. A backup
 * that fails stops no change, since what is to be saved is worth more; it is noted. An empty logbook has nothing to lose.
 */
export function dailyBackup(book: Logbook, note: (sentence: string) => void): () => Promise<void> {
  let doneOn = ""
  return async () => {
    const now = Date.now()
    if (book.readOnly || !book.inPlace() || doneOn === dayOf(now)) return
    try {
      if (!backedUpOn(book.file, now) && book.read(hasHistory)) await backUpFile(book.file, "daily")
    } catch (error) {
      note(`The day's backup failed: ${problemOf(error).message}`)
    }
    doneOn = dayOf(now)
  }
}
