import { basename } from "node:path"
import type { Handlers } from "../../shared/api.ts"
import { conditionsMethod } from "../conditions/compute.ts"
import { backUpFile, backupsOf } from "../store/backup.ts"
import { checkFile } from "../store/check.ts"
import { countStale } from "../store/computed.ts"
import type { Logbook } from "../store/logbook.ts"
import { countRows, importBatches } from "../store/read/info.ts"
import { settingOf } from "../store/read/names.ts"
import type { Queue } from "./queue.ts"
import { sampleKey } from "./sample.ts"

type Area = Pick<Handlers, "logbook.info" | "logbook.check" | "logbook.back_up" | "backups.list">

/** What concerns the logbook file as a whole. */
export const logbookHandlers = (book: Logbook, queue: Queue): Area => ({
  "logbook.info": () =>
    queue(async () =>
      book.read((db) => ({
        file: basename(book.file),
        read_only: book.readOnly,
        sample: settingOf(db, sampleKey) !== null,
        ...countRows(db),
        conditions_behind: countStale(db, conditionsMethod),
        batches: importBatches(db),
      })),
    ),
  "logbook.check": () =>
    queue(async () => {
      const findings = book.read(checkFile)
      return { ok: findings.length === 0, findings }
    }),
  "logbook.back_up": () => queue(async () => ({ file: basename(await backUpFile(book.file, "by-hand")) })),
  "backups.list": () => queue(async () => backupsOf(book.file)),
})
