import { spawn, type ChildProcess } from "node:child_process"
import { once } from "node:events"
import {
  closeSync,
  existsSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  utimesSync,
  writeFileSync,
  writeSync,
} from "node:fs"
import { join } from "node:path"
import { createInterface } from "node:readline"
import { expect, onTestFinished, test } from "vitest"
import { openBook } from "../../core/service/open.ts"
import { makeService } from "../../core/service/service.ts"
import { checkFile } from "../../core/store/check.ts"
import { context, importTables } from "../unit/exchange/importing.ts"
import { named, startCore, startWithBook, until } from "../unit/service/startCore.ts"
import { temporaryFolder, temporaryLogbook } from "../unit/store/temporaryLogbook.ts"

const root = join(import.meta.dirname, "../..")

/** Another host in a process of its own: it starts the core with `a.stintbook` open and runs `act` with a client. */
function otherHost(folder: string, act: string): ChildProcess & { readonly stdout: NodeJS.ReadableStream } {
  const child = spawn(
    process.execPath,
    [
      "--input-type=module-typescript",
      "-e",
      `import { MessageChannel, Worker } from "node:worker_threads"
       import { connect } from "./shared/rpc.ts"
       const worker = new Worker(new URL("core/worker.ts", "file://${root}/"), {
         execArgv: [],
         workerData: { folder: ${JSON.stringify(folder)}, config: ${JSON.stringify(folder)}, open: null },
       })
       const { port1, port2 } = new MessageChannel()
       worker.postMessage({ connect: port2 }, [port2])
       const client = connect({
         send: (message) => port1.postMessage(message),
         hear: (listener) => { port1.on("message", listener); return () => port1.off("message", listener) },
       })
       const say = (text) => process.stdout.write(text + "\\n")
       ${act}`,
    ],
    { cwd: root, stdio: ["ignore", "pipe", "inherit"] },
  )
  onTestFinished(() => void child.kill("SIGKILL"))
  return child
}

async function kill(child: ChildProcess): Promise<void> {
  const gone = once(child, "exit")
  child.kill("SIGKILL")
  await gone
}

/** Waits until the other host has said so many lines. */
async function heard(child: { readonly stdout: NodeJS.ReadableStream }, lines: number): Promise<string[]> {
  const said: string[] = []
  for await (const line of createInterface({ input: child.stdout })) {
    said.push(line)
    if (said.length >= lines) break
  }
  return said
}

const importing = `
  await client.call("desk.new", { name: "a" })
  for (let i = 0; ; i++) {
    const text = "trip,date,hours,lure_class,landed\\n" + "T" + i + ",2024-05-11,2,spoon,1"
    const bytes = new TextEncoder().encode(text)
    const { batch } = await client.call("import.commit", { files: [{ name: i + ".csv", bytes }], settings: {} })
    say(batch)
  }`

test.each([1, 4, 9])(
  "a host killed while it writes loses nothing it acknowledged, after %i imports",
  async (lines) => {
    const folder = temporaryFolder()
    const host = otherHost(folder, importing)
    const acknowledged = await heard(host, lines)
    await kill(host)
    expect(existsSync(join(folder, "a.stintbook.lock"))).toBe(true)
    const { client } = startCore({ folder, open: "a.stintbook" }).window()
    const { open } = await client.call("desk.state", {})
    expect(open).toEqual({ name: "a.stintbook", read_only: null, sample: false })
    expect(await client.call("logbook.check", {})).toEqual({ ok: true, findings: [] })
    const { batches, trips } = await client.call("logbook.info", {})
    expect(batches.map(({ id }) => id)).toEqual(expect.arrayContaining(acknowledged))
    expect(trips).toBe(batches.length)
    await client.call("settings.save", { home_zone: "Asia/Tokyo" })
  },
)

const holding = `
  await client.call("desk.new", { name: "a" })
  const bytes = new TextEncoder().encode("trip,date,hours,lure_class,landed\\nA,2024-05-11,2,spoon,1")
  await client.call("import.commit", { files: [{ name: "a.csv", bytes }], settings: {} })
  say("open")
  setInterval(() => undefined, 1000)`

test("a logbook open in another host can be read and says why not more, until that host is gone", async () => {
  const folder = temporaryFolder()
  const host = otherHost(folder, holding)
  await heard(host, 1)
  const { client } = startCore({ folder, open: "a.stintbook" }).window()
  const { open } = await client.call("desk.state", {})
  expect(open?.read_only).toBe(
    "a.stintbook is open in another window of Stintbook, so it can only be read here. Close it there, then open it again.",
  )
  expect((await client.call("trips.list", {})).map(({ label }) => label)).toEqual(["A"])
  expect((await client.call("logbook.info", {})).read_only).toBe(true)
  for (const call of [
    client.call("settings.save", { home_zone: "Asia/Tokyo" }),
    client.call("import.commit", {
      files: [named("b.csv", "date,hours,landed\n2024-05-12,1,1")],
      settings: {},
    }),
    client.call("desk.restore", { name: "any.stintbook" }),
  ])
    await expect(call).rejects.toMatchObject({ problem: { code: "read_only", message: open?.read_only } })
  await kill(host)
  expect((await client.call("desk.open", { name: "a" })).open?.read_only).toBeNull()
  await client.call("settings.save", { home_zone: "Asia/Tokyo" })
  expect((await client.call("trips.list", {})).length).toBe(1)
})

test("a host's core that dies and is started again takes its own logbook up again", async () => {
  const core = await startWithBook()
  await core.client.call("settings.save", { home_zone: "Asia/Tokyo" })
  await core.worker.terminate()
  const { client } = startCore({ ...core.start, open: "a.stintbook" }).window()
  expect((await client.call("desk.state", {})).open?.read_only).toBeNull()
  expect((await client.call("settings.read", {})).home_zone).toBe("Asia/Tokyo")
})

test("a holder on another machine counts as there while it says so, and no longer", async () => {
  const { client, start } = await startWithBook()
  await client.call("desk.close", {})
  const lock = join(start.folder, "a.stintbook.lock")
  const hold = (agoMs: number): void => {
    writeFileSync(lock, JSON.stringify({ id: "other", pid: 1, machine: "another boat" }))
    const then = new Date(Date.now() - agoMs)
    utimesSync(lock, then, then)
  }
  hold(30_000)
  expect((await client.call("desk.open", { name: "a" })).open?.read_only).toMatch(/on another boat/)
  hold(180_000)
  expect((await client.call("desk.open", { name: "a" })).open?.read_only).toBeNull()
  await client.call("desk.close", {})
  writeFileSync(lock, "no lock of ours")
  expect((await client.call("desk.open", { name: "a" })).open?.read_only).toBeNull()
})

test.each(["removed", "moved"])(
  "a logbook %s while it is open takes no more changes, and all of it is kept",
  async (how) => {
    const { client, start } = await startWithBook()
    await client.call("import.commit", {
      files: [named("a.csv", "date,hours,landed\n2024-05-12,1,1")],
      settings: {},
    })
    await client.call("settings.save", { home_zone: "Asia/Tokyo" })
    const file = join(start.folder, "a.stintbook")
    if (how === "removed") rmSync(file)
    else renameSync(file, join(start.folder, "b.moved"))
    await expect(client.call("settings.save", { home_zone: "Europe/Oslo" })).rejects.toThrow(
      /moved, removed or replaced while it was open/,
    )
    const state = await until(async () => {
      const now = await client.call("desk.state", {})
      return now.open === null ? now : null
    })
    const rescued = /All that it held is kept as (\S+\.stintbook);/.exec(state.problem ?? "")?.[1] ?? ""
    expect(rescued).toMatch(/^a\.rescued-\d{4}-\d\d-\d\d\.stintbook$/)
    await expect(client.call("trips.list", {})).rejects.toThrow(/All that it held is kept as/)
    expect((await client.call("desk.log", {})).text).toContain(rescued)
    expect((await client.call("desk.open", { name: rescued })).problem).toBeNull()
    expect((await client.call("trips.list", {})).length).toBe(1)
    expect((await client.call("settings.read", {})).home_zone).toBe("Asia/Tokyo")
    expect(await client.call("logbook.check", {})).toEqual({ ok: true, findings: [] })
  },
)

test("a full disk is told, keeps what was there, and what was to be imported can be imported when there is room", async () => {
  const book = temporaryLogbook()
  const service = makeService(
    book,
    async () => Promise.reject(new Error("nothing is asked")),
    () => undefined,
  )
  await importTables(book, { "a.csv": "trip,date,hours,landed\nA,2024-05-11,2,1" })
  book.db.pragma(`max_page_count = ${Number(book.db.pragma("page_count", { simple: true })) + 3}`)
  const rows = Array.from({ length: 3000 }, (_, i) => `T${i},2024-05-12,2,1,${"x".repeat(200)}`)
  const files = [named("b.csv", ["trip,date,hours,landed,notes", ...rows].join("\n"))]
  const settings = {
    map: [],
    zone: null,
    trip_is: "row",
    all_or_nothing: false,
    repeats: "skip",
    station_units: null,
  } as const
  const commit = () => service["import.commit"]({ files, settings: { ...settings, map: [] } }, context)
  await expect(commit()).rejects.toMatchObject({ problem: { code: "disk_full" } })
  expect((await service["trips.list"]({}, context)).map(({ label }) => label)).toEqual(["A"])
  expect(checkFile(book.db)).toEqual([])
  book.db.pragma("max_page_count = 1000000")
  expect((await commit()).creates.trips).toBe(3000)
})

test("a sample that was being made when its host was killed is neither taken for one nor in the way", async () => {
  const folder = temporaryFolder()
  const host = otherHost(
    folder,
    `await client.call("desk.sample", {}, { progress: (done) => { if (done >= 20) say("half") } })`,
  )
  await heard(host, 1)
  await kill(host)
  const { client } = startCore({ folder }).window()
  expect((await client.call("desk.state", {})).files).toEqual([])
  expect((await client.call("desk.sample", {})).open?.name).toBe("sample.stintbook")
  const book = await openBook(join(folder, "sample.stintbook"))
  expect(checkFile(book.db)).toEqual([])
  book.close()
  expect(readdirSync(folder).filter((name) => name.includes(".part"))).toEqual([])
})

test("a damaged logbook is named, its backup takes its place, and it is kept itself", async () => {
  const { client, start } = await startWithBook()
  await client.call("settings.save", { home_zone: "Asia/Tokyo" })
  await client.call("logbook.back_up", {})
  await client.call("desk.close", {})
  const file = join(start.folder, "a.stintbook")
  const handle = openSync(file, "r+")
  writeSync(handle, Buffer.alloc(4096, 0x5a), 0, 4096, 0) // its first page, by which it is known for a logbook
  closeSync(handle)
  // A log as a crash leaves it: nothing of it may get into the backup.
  writeFileSync(`${file}-wal`, "of the damaged file")
  const again = startCore({ ...start, open: "a.stintbook" }).window().client
  const state = await again.call("desk.state", {})
  expect(state).toMatchObject({ open: null, damaged: "a.stintbook" })
  expect(state.problem).toMatch(/a\.stintbook is not a Stintbook logbook/)
  const [backup] = await again.call("desk.backups", { logbook: "a.stintbook" })
  const restored = await again.call("desk.restore", { logbook: "a.stintbook", name: backup?.name ?? "" })
  expect(restored).toMatchObject({
    damaged: null,
    problem: null,
    open: { name: "a.stintbook", read_only: null },
  })
  expect((await again.call("settings.read", {})).home_zone).toBe("Asia/Tokyo")
  expect(await again.call("logbook.check", {})).toEqual({ ok: true, findings: [] })
  expect(readFileSync(join(start.folder, restored.kept_as)).subarray(0, 4)).toEqual(Buffer.alloc(4, 0x5a))
})
