import type { Handlers } from "../../shared/api.ts"
import { toCsv } from "../exchange/write/csv.ts"
import { factsTable, stintsTable, strikesTable } from "../exchange/write/tables.ts"
import { toWorkbook } from "../exchange/write/workbook.ts"
import type { Logbook } from "../store/logbook.ts"
import { exportStints, exportStrikes } from "../store/read/exportRows.ts"
import type { ConditionsKeeper } from "./conditions.ts"
import type { Queue } from "./queue.ts"

type Area = Pick<Handlers, "export.tables">

/** The record as plain tables: stints and strikes for another logbook, facts for a statistics program. */
export const exportHandlers = (book: Logbook, queue: Queue, keeper: ConditionsKeeper): Area => ({
  "export.tables": async ({ coordinates }, watch) => {
    await keeper.settled(watch)
    return queue(async () => {
      const stints = book.read(exportStints)
      const plain = [stintsTable(stints, coordinates), strikesTable(stints, book.read(exportStrikes))]
      const csv = [...plain, factsTable(stints)].map((table) => ({
        name: `${table.name}.csv`,
        bytes: toCsv(table),
      }))
      return { files: [...csv, { name: "logbook.xlsx", bytes: await toWorkbook(plain) }] }
    })
  },
})
