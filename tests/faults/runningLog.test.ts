import { spawn } from "node:child_process"
import { join } from "node:path"
import { createInterface } from "node:readline"
import { expect, test } from "vitest"
import { checkFile } from "../../core/store/check.ts"
import { Logbook } from "../../core/store/logbook.ts"
import { createLogbook, openLogbook } from "../../core/store/open.ts"
import { dayBook } from "../unit/day/dayBook.ts"
import { temporaryFolder } from "../unit/store/temporaryLogbook.ts"

const root = join(import.meta.dirname, "../..")

/** Marks misses in the running log of a trip, one after the other, in a process of its own, and kills it after some. */
async function markUntilKilled(file: string, trip: string, marks: number): Promise<number> {
  const program = `
    import { Logbook } from "./core/store/logbook.ts"
    import { openLogbook } from "./core/store/open.ts"
    import { makeService } from "./core/service/service.ts"
    const book = new Logbook(await openLogbook(${JSON.stringify(file)}))
    const service = makeService(book, () => Promise.reject(new Error("no question")), () => undefined)
    const context = { signal: new AbortController().signal, progress: () => undefined }
    const trip = ${JSON.stringify(trip)}
    const { running } = await service["log.act"]({ trip, act: { do: "start", presentation: "tw", spot: "md" } }, context)
    for (;;) {
      await service["log.act"]({ trip, act: { do: "mark", stint: running[0].stint, mark: "miss" } }, context)
      process.stdout.write("kept\\n")
    }`
  const child = spawn(process.execPath, ["--input-type=module-typescript", "-e", program], {
    cwd: root,
    stdio: ["ignore", "pipe", "inherit"],
  })
  let acknowledged = 0
  for await (const line of createInterface({ input: child.stdout }))
    if (line === "kept" && ++acknowledged >= marks) child.kill("SIGKILL")
  return acknowledged
}

test.each([1, 4, 17])("the running log goes on where it was when killed after %i marks", async (marks) => {
  const file = join(temporaryFolder(), "a.stintbook")
  const before = dayBook(new Logbook(createLogbook(file)))
  const trip = before.trip()
  before.book.close()
  const acknowledged = await markUntilKilled(file, trip, marks)
  const book = new Logbook(await openLogbook(file))
  const { call } = dayBook(book, false)
  expect(checkFile(book.db)).toEqual([])
  const { running } = await call("log.state", { trip })
  expect(running.length).toBe(1)
  expect(running[0]?.marks["miss"]).toBeGreaterThanOrEqual(acknowledged)
  expect(acknowledged).toBeGreaterThanOrEqual(marks)
  const stopped = await call("log.act", { trip, act: { do: "stop", stint: running[0]?.stint ?? "" } })
  expect(stopped.running).toEqual([])
  book.close()
})
