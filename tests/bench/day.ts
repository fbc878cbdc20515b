import { join } from "node:path"
import Database from "better-sqlite3"
import { median, quantile } from "simple-statistics"
import { api, type CallContext, type Input, type MethodName } from "../../shared/api.ts"
import type { BookHandlers } from "../../shared/api.ts"
import type { Logbook } from "../../core/store/logbook.ts"
import { add } from "../../core/store/put.ts"
import { makeService } from "../../core/service/service.ts"
import { plainTrip } from "../unit/store/plainTrip.ts"

const context: CallContext = { signal: new AbortController().signal, progress: () => undefined }
const ms = (time: number): string => `${time.toFixed(1)} ms`
const rows = 60
const edits = 500

async function timed(act: () => unknown): Promise<number> {
  const start = performance.now()
  await act()
  return performance.now() - start
}

/** The yardstick: one row changed and committed to disk by bare SQLite, as often as asked for; the times in ms. */
function bareCommits(folder: string, times: number): number[] {
  const db = new Database(join(folder, "bare-commits.db"))
  db.pragma("journal_mode = WAL")
  db.pragma("synchronous = FULL")
  db.exec("CREATE TABLE cell (id INTEGER PRIMARY KEY, text TEXT) STRICT; INSERT INTO cell VALUES (1, '')")
  const update = db.prepare("UPDATE cell SET text = ? WHERE id = 1")
  const taken = Array.from({ length: times }, (_, i) => {
    const start = performance.now()
    update.run(String(i))
    return performance.now() - start
  })
  db.close()
  return taken
}

/**
 * Times what a person waits for at the day sheet: edits of a day of 60 stints in a large logbook, each committed to disk and
 * answered with the whole sheet, the first ten beside the last ten of 500 in one sitting; opening a day, undo, and a search.
 */
export async function benchDay(book: Logbook, folder: string, stints: number): Promise<void> {
  const service = makeService(
    book,
    () => Promise.reject(new Error("nothing is asked here")),
    () => undefined,
  )
  const call = <M extends MethodName & keyof BookHandlers>(method: M, input: Input<M>) =>
    service[method](api[method].input.parse(input), context)
  const trip = book.change((change) => {
    const codes = ["tw", "pt", "sp"]
    for (const code of codes) add(change, "presentation", { name: `presentation ${code}`, code })
    add(change, "species", { name: "red drum", code: "rd" })
    add(change, "spot", { name: "Mill Drain", code: "md" })
    return add(change, "trip", { ...plainTrip, counted_follows: 1 })
  })
  const lines = Array.from({ length: rows }, (_, i) => {
    const minutes = 5 * 60 + i * 12
    return `${String(Math.floor(minutes / 60)).padStart(2, "0")}${String(minutes % 60).padStart(2, "0")} ${i === 0 ? "md " : ""}${["tw", "pt", "sp"][i % 3] ?? "tw"}.m rd24`
  })
  const text = [...lines, "+12x"].join("\n")
  await call("conditions.settled", {})
  const pasted = await timed(() => call("day.save", { trip, was: "", text }))
  const sheet = await call("day.cells", { trip })
  const taken: number[] = []
  for (let i = 0; i < edits; i++) {
    const row = sheet.rows[(i * 7) % rows]?.id ?? ""
    const came = `m${(i % 4) + 2} rd${20 + (i % 9)}`
    taken.push(
      await timed(() => call("day.edit", { trip, edits: [{ do: "set", row, column: "came", text: came }] })),
    )
  }
  const bare = median(bareCommits(folder, 100))
  const opened = await timed(() => call("day.read", { trip }))
  const read = await timed(() => call("tape.read", { trip, text, caret: text.length }))
  const undone = await timed(() => call("history.undo_last", {}))
  const found: [string, number][] = []
  for (const search of ["spoon 2016", "angler 1", "nowhere to be found"])
    found.push([
      search,
      median([
        await timed(() => call("trips.find", { text: search })),
        await timed(() => call("trips.find", { text: search })),
      ]),
    ])
  const part = (from: number, to: number): string => {
    const times = taken.slice(from, to)
    return `${ms(median(times))}, 95% within ${ms(quantile(times, 0.95))} (${(median(times) / bare).toFixed(0)} times)`
  }
  console.log(
    [
      `\nA day of ${rows} stints in a logbook of ${stints}; yardstick: one row changed and committed by bare SQLite, ${ms(bare)}`,
      `  one cell edited, committed and the sheet answered: first 50 ${part(0, 50)}; last 50 of ${edits} ${part(edits - 50, edits)}`,
      `  ${rows} stints pasted on the tape: ${ms(pasted)}; the day opened: ${ms(opened)}; its tape read as typed: ${ms(read)}; undo: ${ms(undone)}`,
      `  search, warm: ${found.map(([search, time]) => `"${search}" ${ms(time)}`).join("; ")}`,
    ].join("\n"),
  )
}
