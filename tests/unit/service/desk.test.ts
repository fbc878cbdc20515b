import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test } from "vitest"
import { openBook } from "../../../core/service/open.ts"
import { newBook } from "../../../core/service/open.ts"
import { add } from "../../../core/store/put.ts"
import { run } from "../cli/running.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"
import { named, startCore, startWithBook, until } from "./startCore.ts"

const table = named(
  "stints.csv",
  "trip,date,hours,lure_class,landed\nA,2024-05-11,2,spoon,1\nB,2024-05-12,3,jig,0",
)

test("with nothing open the desk answers, and a logbook's methods say what to do", async () => {
  const { client } = startCore().window()
  expect(await client.call("desk.state", {})).toMatchObject({
    files: [],
    recent: [],
    open: null,
    problem: null,
  })
  await expect(client.call("logbook.info", {})).rejects.toMatchObject({
    problem: { code: "no_logbook", message: "No logbook is open. Open one, or make a new one." },
  })
})

test("a new logbook is made in the folder, opened, and remembered by its name alone", async () => {
  const core = startCore()
  const { client } = core.window()
  const state = await client.call("desk.new", { name: "My days" })
  expect(state.open).toEqual({ name: "My days.stintbook", read_only: null, sample: false })
  expect(state.files.map(({ name, sample }) => [name, sample])).toEqual([["My days.stintbook", false]])
  expect(state.files[0]?.bytes).toBeGreaterThan(1000)
  expect(state.recent).toEqual(["My days.stintbook"])
  await expect(client.call("desk.new", { name: "My days" })).rejects.toThrow(/exists already/)
  expect((await client.call("desk.state", {})).open?.name).toBe("My days.stintbook")
  expect(await client.call("logbook.info", {})).toMatchObject({ trips: 0, read_only: false })
})

test("opening another logbook puts it in the first one's place for every window, and each keeps its own record", async () => {
  const { client, window } = await startWithBook("first")
  const other = window()
  let heard = 0
  other.client.onChanged(() => heard++)
  await client.call("import.commit", { files: [table], settings: {} })
  await client.call("desk.new", { name: "second" })
  expect(heard).toBeGreaterThan(1)
  expect((await other.client.call("desk.state", {})).open?.name).toBe("second.stintbook")
  expect((await other.client.call("logbook.info", {})).trips).toBe(0)
  const back = await other.client.call("desk.open", { name: "first.stintbook" })
  expect(back.recent).toEqual(["first.stintbook", "second.stintbook"])
  expect((await client.call("logbook.info", {})).trips).toBe(2)
  expect((await client.call("desk.close", {})).open).toBeNull()
  await expect(other.client.call("trips.list", {})).rejects.toThrow(/No logbook is open/)
})

test("calls made while logbooks are exchanged again and again each find one open", async () => {
  const { client } = await startWithBook("first")
  await client.call("desk.new", { name: "second" })
  const names = ["first", "second", "first", "second", "first"]
  const calls = names.flatMap((name) => [
    client.call("desk.open", { name }).then(({ open }) => open?.name ?? "none"),
    client.call("logbook.info", {}).then(({ file }) => file),
    new Promise((resolve) => setTimeout(resolve, 5)).then(
      async () => (await client.call("logbook.info", {})).file,
    ),
  ])
  for (const name of await Promise.all(calls)) expect(name).toMatch(/^(first|second)\.stintbook$/)
  expect((await client.call("desk.state", {})).open?.name).toBe("first.stintbook")
})

test("what cannot be opened is told, and what was open stays open", async () => {
  const { client, start } = await startWithBook()
  writeFileSync(join(start.folder, "notes.stintbook"), "just some text")
  for (const [name, sentence] of [
    ["none.stintbook", /There is no file/],
    ["notes.stintbook", /is not a Stintbook logbook/],
    ["..", /is no name of a logbook/],
  ] as const)
    await expect(client.call("desk.open", { name })).rejects.toThrow(sentence)
  await expect(client.call("desk.open", { name: "../a.stintbook" })).rejects.toThrow(/no slashes/)
  expect((await client.call("desk.state", {})).open?.name).toBe("a.stintbook")
  expect((await client.call("logbook.info", {})).trips).toBe(0)
})

test("an answer and an import under way when the logbook is put away are cancelled whole", async () => {
  const { client } = await startWithBook()
  const rows = Array.from(
    { length: 8000 },
    (_, i) => `T${i},2024-05-${String(1 + (i % 28)).padStart(2, "0")},2,jig,1`,
  )
  const long = named("long.csv", ["trip,date,hours,lure_class,landed", ...rows].join("\n"))
  await client.call("import.commit", { files: [table], settings: {} })
  let started = (): void => undefined
  const underWay = new Promise<void>((resolve) => (started = resolve))
  const call = client
    .call(
      "import.commit",
      { files: [long], settings: { repeats: "separate" } },
      { progress: () => started() },
    )
    .catch((error: unknown) => error)
  await underWay
  await client.call("desk.new", { name: "b" })
  expect(await call).toMatchObject({ problem: { code: "cancelled" } })
  await client.call("desk.open", { name: "a" })
  expect((await client.call("logbook.info", {})).trips).toBe(2)
})

test("the sample is made once, marked, opened again, and never in the place of a file of that name", async () => {
  const { client, start } = await startWithBook("sample")
  const progress: number[] = []
  const state = await client.call("desk.sample", {}, { progress: (done, of) => progress.push(done / of) })
  expect(state.open).toEqual({ name: "sample-2.stintbook", read_only: null, sample: true })
  expect(state.files.map(({ name, sample }) => [name, sample])).toEqual([
    ["sample-2.stintbook", true],
    ["sample.stintbook", false],
  ])
  expect(progress.length).toBeGreaterThan(3)
  expect(progress).toEqual(progress.toSorted((a, b) => a - b))
  expect((await client.call("logbook.info", {})).sample).toBe(true)
  await client.call("desk.open", { name: "sample.stintbook" })
  expect((await client.call("desk.sample", {})).open?.name).toBe("sample-2.stintbook")
  expect(readdirSync(start.folder).filter((name) => name.endsWith(".stintbook"))).toHaveLength(2)
})

test("a new logbook and the sample are kept in the units they are made with", async () => {
  const { client } = await startWithBook()
  await client.call("desk.new", { name: "mine", units: presets.us })
  expect((await client.call("settings.read", {})).units).toEqual(presets.us)
  await client.call("desk.sample", { units: presets.us })
  expect((await client.call("settings.read", {})).units).toEqual(presets.us)
  await client.call("desk.new", { name: "other" })
  expect((await client.call("settings.read", {})).units).toEqual(presets.metric)
})

test("a sample given up half way leaves nothing behind", async () => {
  const { client, start } = await startWithBook()
  const controller = new AbortController()
  const call = client.call(
    "desk.sample",
    {},
    { signal: controller.signal, progress: () => controller.abort() },
  )
  await expect(call).rejects.toMatchObject({ problem: { code: "cancelled" } })
  expect(readdirSync(start.folder).filter((name) => name.includes("sample"))).toEqual([])
  expect((await client.call("desk.state", {})).open?.name).toBe("a.stintbook")
})

test("a logbook named at the start is open from the first call on, from outside the folder too, by its name", async () => {
  const elsewhere = join(temporaryFolder(), "elsewhere.stintbook")
  newBook(elsewhere).close()
  const { client } = startCore({ open: elsewhere }).window()
  const state = await client.call("desk.state", {})
  expect(state.open).toEqual({ name: "elsewhere.stintbook", read_only: null, sample: false })
  expect([state.files, state.recent]).toEqual([[], []])
  const info = await client.call("logbook.info", {})
  expect(info.file).toBe("elsewhere.stintbook")
  expect((await client.call("logbook.back_up", {})).file).toMatch(/^\d{8}T\d{6}Z-by-hand\.stintbook$/)
})

test("a logbook named at the start that cannot be had is told in the state and in the log, and the desk works on", async () => {
  const core = startCore({ open: "gone.stintbook" })
  const { client } = core.window()
  const state = await client.call("desk.state", {})
  expect([state.open, state.problem]).toEqual([
    null,
    expect.stringMatching(/There is no file .*gone\.stintbook/),
  ])
  await expect(client.call("trips.list", {})).rejects.toThrow(/There is no file .*gone\.stintbook/)
  expect((await client.call("desk.log", {})).text).toMatch(/There is no file .*gone\.stintbook/)
  expect(core.logged.join("\n")).toMatch(/gone\.stintbook/)
  expect((await client.call("desk.new", { name: "a" })).problem).toBeNull()
})

test("a start that names no logbook's name is told too", async () => {
  const { client } = startCore({ open: "../../etc/passwd" }).window()
  expect((await client.call("desk.state", {})).problem).toMatch(/is no name of a logbook in the folder/)
})

test("the log shown is the host's files, oldest first, and what only the core knows", async () => {
  const config = temporaryFolder()
  writeFileSync(join(config, "stintbook.log"), "the host ended\n")
  writeFileSync(join(config, "stintbook.1.log"), "the host began\n")
  writeFileSync(join(config, "secret.txt"), "not for the log")
  const { client } = startCore({ config, open: "gone" }).window()
  await client.call("desk.state", {})
  const { text } = await client.call("desk.log", {})
  expect(text).toMatch(/^the host began\nthe host ended\n\d{4}-.*There is no file/)
  expect(text).not.toContain("not for the log")
})

test("preferences hold whatever is open, one by one, and over a new start", async () => {
  const core = startCore()
  const { client } = core.window()
  expect(await client.call("desk.preferences", {})).toEqual({ theme: "system", text_size: "normal" })
  await client.call("desk.prefer", { theme: "dark" })
  expect(await client.call("desk.prefer", { text_size: "large" })).toEqual({
    theme: "dark",
    text_size: "large",
  })
  await client.call("desk.new", { name: "a" })
  await core.worker.terminate()
  const again = startCore(core.start).window().client
  expect(await again.call("desk.preferences", {})).toEqual({ theme: "dark", text_size: "large" })
  expect((await again.call("desk.state", {})).recent).toEqual(["a.stintbook"])
})

test.each(["{ not json", '{"preferences":{"theme":"neon"}}', '{"recent":"a"}', "[]"])(
  "damaged preferences (%s) are kept aside and the usual ones hold",
  async (text) => {
    const config = temporaryFolder()
    writeFileSync(join(config, "desk.json"), text)
    const { client } = startCore({ config }).window()
    expect(await client.call("desk.preferences", {})).toEqual({ theme: "system", text_size: "normal" })
    const aside = readdirSync(config).filter((name) => name.startsWith("desk.json.damaged-"))
    expect(aside.map((name) => readFileSync(join(config, name), "utf8"))).toEqual([text])
  },
)

test("a newer version's preferences keep what this one knows", async () => {
  const config = temporaryFolder()
  writeFileSync(join(config, "desk.json"), '{"preferences":{"theme":"dark","font":"any"},"later":1}')
  const { client } = startCore({ config }).window()
  expect(await client.call("desk.preferences", {})).toEqual({ theme: "dark", text_size: "normal" })
})

test("a write from the command line is noticed by every window within some seconds", async () => {
  const { client, window, start } = await startWithBook()
  await client.call("conditions.settled", {})
  const changes = [0, 0]
  client.onChanged(() => (changes[0] = (changes[0] ?? 0) + 1))
  window().client.onChanged(() => (changes[1] = (changes[1] ?? 0) + 1))
  const csv = join(start.folder, "stints.csv")
  writeFileSync(csv, table.bytes)
  const before = [...changes]
  expect((await run("import", join(start.folder, "a.stintbook"), csv)).status).toBe(0)
  await until(() => (changes.every((count, i) => count > (before[i] ?? 0)) ? true : null))
  expect((await client.call("trips.list", {})).length).toBe(2)
})

test("a quiet logbook tells no changes", async () => {
  const { client } = await startWithBook()
  await client.call("import.commit", { files: [table], settings: {} })
  await client.call("conditions.settled", {})
  await new Promise((resolve) => setTimeout(resolve, 300))
  let heard = 0
  client.onChanged(() => heard++)
  await new Promise((resolve) => setTimeout(resolve, 2500))
  expect(heard).toBe(0)
})

test("looking at the folder leaves no files beside the logbooks and opens no stranger's", async () => {
  const folder = temporaryFolder()
  newBook(join(folder, "a.stintbook")).close()
  writeFileSync(join(folder, "song.stintbook"), "SQLite format 3\0 or so")
  mkdirSync(join(folder, "folder.stintbook"))
  const { client } = startCore({ folder }).window()
  const { files } = await client.call("desk.state", {})
  expect(files.map(({ name }) => name)).toEqual(["a.stintbook", "song.stintbook"])
  expect(readdirSync(folder).toSorted()).toEqual(["a.stintbook", "folder.stintbook", "song.stintbook"])
})

test("a backup put in the place of the open logbook brings its state back, and what stood there is kept beside it", async () => {
  const { client, start } = await startWithBook()
  await client.call("import.commit", { files: [table], settings: {} })
  await client.call("logbook.back_up", {})
  const [backup] = await client.call("backups.list", {})
  expect(backup?.why).toBe("by hand")
  await client.call("settings.save", { home_zone: "Asia/Tokyo" })
  const restored = await client.call("desk.restore", { name: backup?.name ?? "" })
  expect(restored.open).toEqual({ name: "a.stintbook", read_only: null, sample: false })
  expect(restored.kept_as).toMatch(/^a\.before-restore-\d{4}-\d\d-\d\d\.stintbook$/)
  expect((await client.call("settings.read", {})).home_zone).toBeNull()
  expect((await client.call("logbook.info", {})).trips).toBe(2)
  expect(await client.call("logbook.check", {})).toEqual({ ok: true, findings: [] })
  await client.call("settings.save", { home_zone: "Europe/Oslo" }) // it is writable again
  const kept = await openBook(join(start.folder, restored.kept_as))
  expect(kept.db.prepare("SELECT value FROM setting WHERE key = 'home_zone'").pluck().get()).toBe(
    "Asia/Tokyo",
  )
  kept.close()
  const second = await client.call("desk.restore", { name: backup?.name ?? "" })
  expect(second.kept_as).toMatch(/-2\.stintbook$/)
})

test("a backup that is not there, or damaged, changes nothing, and so does another program that has the logbook open", async () => {
  const { client, start } = await startWithBook()
  await client.call("import.commit", { files: [table], settings: {} })
  await client.call("logbook.back_up", {})
  const name = (await client.call("backups.list", {}))[0]?.name ?? ""
  await expect(client.call("desk.restore", { name: "none.stintbook" })).rejects.toThrow(/There is no backup/)
  const bad = name.replace("by-hand", "before-import")
  const backups = join(start.folder, "a.backups")
  copyFileSync(join(backups, name), join(backups, bad))
  const bytes = readFileSync(join(backups, bad))
  writeFileSync(join(backups, bad), bytes.fill(0x5a, 4096 * 3, 4096 * 9))
  await expect(client.call("desk.restore", { name: bad })).rejects.toThrow(/damaged/)
  const other = await openBook(join(start.folder, "a.stintbook"))
  other.db.prepare("SELECT count(*) FROM trip").get()
  await expect(client.call("desk.restore", { name })).rejects.toThrow(/another program/)
  other.close()
  expect((await client.call("logbook.info", {})).trips).toBe(2)
  expect(readdirSync(start.folder).filter((file) => /restor/.test(file))).toEqual([])
  expect((await client.call("desk.restore", { name })).open?.name).toBe("a.stintbook")
})

test("the day's first change comes after a backup, later ones do not, and an empty logbook has none", async () => {
  const { client, start } = await startWithBook()
  await client.call("settings.save", { home_zone: "Asia/Tokyo" })
  expect(await client.call("backups.list", {})).toEqual([])
  await client.call("desk.close", {})
  await client.call("desk.open", { name: "a" })
  await client.call("settings.save", { home_zone: "Europe/Oslo" })
  await client.call("settings.save", { home_zone: "UTC" })
  const backups = await client.call("backups.list", {})
  expect(backups.map(({ why }) => why)).toEqual(["before the day's first change"])
  const copy = await openBook(join(start.folder, "a.backups", backups[0]?.name ?? ""))
  expect(copy.db.prepare("SELECT value FROM setting").pluck().all()).toEqual(["Asia/Tokyo"])
  copy.close()
})

test("a backup that cannot be taken stops no change and is noted", async () => {
  const { client, start } = await startWithBook()
  await client.call("settings.save", { home_zone: "Asia/Tokyo" })
  await client.call("desk.close", {})
  writeFileSync(join(start.folder, "a.backups"), "a file where the folder should be")
  await client.call("desk.open", { name: "a" })
  await client.call("settings.save", { home_zone: "UTC" })
  expect((await client.call("settings.read", {})).home_zone).toBe("UTC")
  expect((await client.call("desk.log", {})).text).toMatch(/The day's backup failed/)
})

test("every answer goes to the window that asked, and a window that closes ends nothing for the others", async () => {
  const { client, window } = await startWithBook()
  const other = window()
  const [a, b] = await Promise.all([client.call("settings.read", {}), other.client.call("logbook.info", {})])
  expect([Object.keys(a).length, b.trips]).toEqual([2, 0])
  const answers = other.heard.filter((message) => message.t === "ok")
  expect(answers).toHaveLength(1)
  other.client.close()
  expect((await client.call("logbook.info", {})).trips).toBe(0)
})

test("the right to write is given back when a logbook is put away", async () => {
  const { client, start } = await startWithBook()
  expect(existsSync(join(start.folder, "a.stintbook.lock"))).toBe(true)
  await client.call("desk.close", {})
  expect(existsSync(join(start.folder, "a.stintbook.lock"))).toBe(false)
  const book = await openBook(join(start.folder, "a.stintbook"))
  book.change((change) => add(change, "angler", { name: "Ada" }))
  book.close()
  expect(readdirSync(start.folder).filter((name) => /-(wal|shm)$/.test(name))).toEqual([])
})

test("what nobody expected is noted by where it happened, never by what the logbook says", async () => {
  const core = await startWithBook()
  const { client, start } = core
  await client.call("import.commit", { files: [table], settings: {} })
  // A zone that does not exist, as only another program could write it.
  const book = await openBook(join(start.folder, "a.stintbook"))
  book.db.exec("UPDATE trip SET zone = 'Nowhere/31.39,-81.288', start_at = 1, status = 'open'")
  book.db.exec("UPDATE stint SET start_at = 1715400000000, end_at = 1715403600000")
  book.close()
  const [trip] = await client.call("trips.list", {})
  await expect(client.call("trips.page", { trip: trip?.id ?? "" })).rejects.toMatchObject({
    problem: { code: "internal" },
  })
  const { text } = await client.call("desk.log", {})
  expect(text).toMatch(/trips\.page: RangeError at .*/)
  expect(text).not.toContain("81.288")
})
