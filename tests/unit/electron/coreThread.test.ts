import { readFileSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test, vi } from "vitest"
import { startCore } from "../../../electron/coreThread.ts"
import { newBook } from "../../../core/service/open.ts"
import { openLog } from "../../../electron/log.ts"
import { connect, type Envelope } from "../../../shared/rpc.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"
import { hostedCore, mortalCore, openWindow, startHost } from "./hosting.ts"

const problemsIn = (heard: readonly Envelope[]) =>
  heard.flatMap((message) => (message.t === "problem" ? [message] : []))

/** The problems heard: which call they belong to, and their sentence. */
const told = (heard: readonly Envelope[]) =>
  problemsIn(heard).map(({ id, problem }): [number, string] => [id, problem.message])

test("a core that dies is started again: every window hears one sentence, and nothing saved is lost", async () => {
  const folder = temporaryFolder()
  const host = await startHost({ folder, program: mortalCore(folder, "when asked") })
  const windows = [await openWindow(host), await openWindow(host)] as const
  const [{ client }] = windows
  await client.call("desk.new", { name: "a.stintbook" })
  const bytes = new TextEncoder().encode("trip,date,start,end,landed\nT1,2024-05-01,06:00,08:00,2\n")
  await client.call("import.commit", { files: [{ name: "stints.csv", bytes }], settings: {} })
  writeFileSync(join(folder, "die"), "")
  await vi.waitFor(
    () => {
      for (const { heard } of windows) expect(problemsIn(heard)).toHaveLength(1)
    },
    { timeout: 10_000 },
  )
  for (const { heard } of windows)
    expect(told(heard)).toEqual([[0, expect.stringMatching(/started again\. Everything saved/)]])
  await client.call("desk.open", { name: "a.stintbook" })
  expect((await client.call("logbook.info", {})).stints).toBe(1)
  const log = readFileSync(host.logFile, "utf8")
  expect(log).toMatch(/core: Error: the thread fell over at \[place\]/)
  expect(log).toMatch(/core ended with status 1/)
})

test("a core that dies again and again is given up, and calls are answered by a sentence all the same", async () => {
  const folder = temporaryFolder()
  const log = openLog(join(folder, "log"))
  const start = { folder, config: join(folder, "config"), open: null }
  const core = startCore(mortalCore(folder, "at once"), start, log)
  const heard: Envelope[] = []
  const line = core.connect((message) => heard.push(message))
  await vi.waitFor(() => expect(problemsIn(heard).at(-1)?.problem.message).toMatch(/again and again/), {
    timeout: 20_000,
  })
  expect(problemsIn(heard)).toHaveLength(4)
  line.send({ t: "call", id: 1, method: "desk.state", input: {} })
  expect(problemsIn(heard)).toHaveLength(5)
  expect(told(heard).at(-1)).toEqual([1, expect.stringMatching(/safe/)])
  await core.close()
})

test("a restarted core serves the lines that were there", async () => {
  const core = hostedCore(temporaryFolder())
  const listeners = new Set<(message: Envelope) => void>()
  const line = core.connect((message) => {
    for (const listener of listeners) listener(message)
  })
  const client = connect({
    send: (message) => line.send(message),
    hear: (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  })
  expect((await client.call("desk.state", {})).open).toBeNull()
  await core.restart()
  expect((await client.call("desk.state", {})).open).toBeNull()
})

test("a logbook named at a later start is opened by its path, and every window hears why its calls ended", async () => {
  const elsewhere = join(temporaryFolder(), "brought.stintbook")
  newBook(elsewhere).close()
  const host = await startHost()
  const { client, heard } = await openWindow(host)
  expect((await client.call("desk.state", {})).open).toBeNull()
  await host.core.open(elsewhere)
  await vi.waitFor(() =>
    expect(told(heard)).toEqual([[0, expect.stringMatching(/Another logbook was opened/)]]),
  )
  expect((await client.call("desk.state", {})).open?.name).toBe("brought.stintbook")
})

test("a line that was closed hears no more", async () => {
  const core = hostedCore(temporaryFolder())
  const heard: Envelope[] = []
  const line = core.connect((message) => heard.push(message))
  line.send({ t: "call", id: 1, method: "desk.state", input: {} })
  await vi.waitFor(() => expect(heard.some(({ t }) => t === "ok")).toBe(true), { timeout: 10_000 })
  line.close()
  const before = heard.length
  await core.restart()
  expect(heard).toHaveLength(before)
})
