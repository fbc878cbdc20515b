import { spawn } from "node:child_process"
import { once } from "node:events"
import { mkdirSync, openSync, readFileSync, statSync, writeFileSync, writeSync } from "node:fs"
import { join } from "node:path"
import Database from "better-sqlite3"
import { expect, test } from "vitest"
import { backUpFile } from "../../core/store/backup.ts"
import { checkFile } from "../../core/store/check.ts"
import { Logbook } from "../../core/store/logbook.ts"
import { knownMigrations } from "../../core/store/migrate.ts"
import { createLogbook, openLogbook } from "../../core/store/open.ts"
import { add } from "../../core/store/put.ts"
import { ProblemError } from "../../shared/problems.ts"
import { temporaryFolder, temporaryLogbook } from "../unit/store/temporaryLogbook.ts"

const problem = async (act: () => unknown): Promise<ProblemError> => {
  try {
    await act()
  } catch (error) {
    if (error instanceof ProblemError) return error
    throw error
  }
  throw new Error("nothing went wrong")
}

const addAngler = (book: Logbook, name: string) => book.change((change) => add(change, "angler", { name }))

const closedLogbook = (): string => {
  const { db, file } = createLogbook(join(temporaryFolder(), "a.stintbook"))
  db.close()
  return file
}

test("every connection writes through to the disk and keeps references whole", async () => {
  const { db } = await openLogbook(closedLogbook())
  expect(db.pragma("journal_mode", { simple: true })).toBe("wal")
  expect(db.pragma("synchronous", { simple: true })).toBe(2)
  expect(db.pragma("foreign_keys", { simple: true })).toBe(1)
  expect(db.pragma("trusted_schema", { simple: true })).toBe(0)
  db.close()
})

test("a stranger's SQLite file is refused by a sentence and left byte for byte as it was", async () => {
  const file = join(temporaryFolder(), "songs.db")
  const stranger = new Database(file)
  stranger.exec("CREATE TABLE song (name TEXT)")
  stranger.close()
  const before = readFileSync(file)
  const { problem: said } = await problem(() => openLogbook(file))
  expect(said.code).toBe("not_a_logbook")
  expect(said.message).toContain("is not a Stintbook logbook")
  expect(readFileSync(file)).toEqual(before)
})

test.each([
  ["a text file", "date,landed\n2024-05-01,3\n".repeat(40)],
  ["an empty file", ""],
])("%s is refused by a sentence and left as it was", async (_, content) => {
  const file = join(temporaryFolder(), "notes.stintbook")
  writeFileSync(file, content)
  const { problem: said } = await problem(() => openLogbook(file))
  expect(said.code).toBe("not_a_logbook")
  expect(readFileSync(file, "utf8")).toBe(content)
})

test("a folder, a missing file and a taken name are each told by their own sentence", async () => {
  const folder = temporaryFolder()
  mkdirSync(join(folder, "trips"))
  expect((await problem(() => openLogbook(join(folder, "trips")))).problem.code).toBe("not_a_file")
  expect((await problem(() => openLogbook(join(folder, "none.stintbook")))).problem.code).toBe("file_missing")
  expect((await problem(() => createLogbook(join(folder, "no", "such", "a.stintbook")))).problem.code).toBe(
    "file_missing",
  )
  const file = closedLogbook()
  expect((await problem(() => createLogbook(file))).problem.code).toBe("file_exists")
})

test("a logbook of a newer version opens to read, and says so when it is to be changed", async () => {
  const book = temporaryLogbook()
  addAngler(book, "Ada")
  book.db.pragma(`user_version = ${knownMigrations().length + 1}`)
  const newer = new Logbook(await openLogbook(book.file))
  expect(newer.readOnly).toBe(true)
  expect(newer.db.prepare("SELECT count(*) FROM stint_fact").pluck().get()).toBe(0)
  expect((await problem(() => addAngler(newer, "Ben"))).problem.code).toBe("newer_logbook")
  newer.close()
})

test("a file whose migrations differ from the known ones is not touched", async () => {
  const file = closedLogbook()
  const db = new Database(file)
  db.exec("UPDATE migration SET sha256 = 'feed' WHERE number = 1")
  db.close()
  const said = await problem(() => openLogbook(file))
  expect(said.message).toMatch(
    /made with migration 0001_logbook\.sql \(feed\), but this version knows 0001_logbook\.sql/,
  )
})

test("an older file is backed up before it is brought up to date", async () => {
  const file = closedLogbook()
  const db = new Database(file)
  db.pragma("user_version = 0")
  db.close()
  await openLogbook(file).then((open) => open.db.close())
  expect(statSync(`${file.replace(/\.stintbook$/, "")}.backups`).isDirectory()).toBe(true)
})

test("a file locked by another process is told, and nothing is half written", async () => {
  const book = temporaryLogbook()
  const holder = spawn(
    process.execPath,
    [
      "-e",
      `const db = new (require("better-sqlite3"))(${JSON.stringify(book.file)})
       db.exec("BEGIN IMMEDIATE")
       process.stdout.write("held")
       process.stdin.once("data", () => { db.exec("ROLLBACK"); db.close(); process.exit() })`,
    ],
    { stdio: ["pipe", "pipe", "inherit"], cwd: import.meta.dirname },
  )
  await once(holder.stdout, "data")
  book.db.pragma("busy_timeout = 50")
  const said = await problem(() => addAngler(book, "Ada"))
  expect(said.problem.code).toBe("locked")
  expect(said.message).toContain("nothing was changed")
  holder.stdin.write("release")
  await once(holder, "exit")
  expect(book.db.prepare("SELECT count(*) FROM angler").pluck().get()).toBe(0)
  addAngler(book, "Ada")
  expect(book.db.prepare("SELECT count(*) FROM angler").pluck().get()).toBe(1)
})

test("a full disk stops the change whole", async () => {
  const book = temporaryLogbook()
  addAngler(book, "Ada")
  book.db.pragma(`max_page_count = ${Number(book.db.pragma("page_count", { simple: true })) + 2}`)
  const said = await problem(() =>
    book.change((change) => {
      for (let i = 0; i < 2000; i++) add(change, "angler", { name: `angler ${i}`, notes: "x".repeat(200) })
    }),
  )
  expect(said.problem.code).toBe("disk_full")
  expect(book.db.prepare("SELECT count(*) FROM angler").pluck().get()).toBe(1)
  expect(checkFile(book.db)).toEqual([])
})

test("a damaged file is called damaged", async () => {
  const book = temporaryLogbook()
  book.change((change) => {
    for (let i = 0; i < 500; i++) add(change, "angler", { name: `angler ${i}`, notes: "x".repeat(100) })
  })
  book.db.pragma("wal_checkpoint(TRUNCATE)")
  const { file } = book
  const handle = openSync(file, "r+")
  const { size } = statSync(file)
  for (let at = 4096 * 3; at < size; at += 4096) writeSync(handle, Buffer.alloc(2048, 0x5a), 0, 2048, at)
  const damaged = new Database(file, { readonly: true })
  const findings = (() => {
    try {
      return checkFile(damaged)
    } catch (error) {
      return [String(error)]
    } finally {
      damaged.close()
    }
  })()
  expect(findings.length).toBeGreaterThan(0)
})

test("a backup holds what the logbook held; of a day's automatic ones the first and the newest ten are kept", async () => {
  const book = temporaryLogbook()
  addAngler(book, "Ada")
  const byHand = await backUpFile(book.file, "by-hand")
  const copy = new Logbook(await openLogbook(byHand))
  expect(copy.db.prepare("SELECT name FROM angler").pluck().all()).toEqual(["Ada"])
  expect(copy.db.prepare("SELECT count(*) FROM change").pluck().get()).toBe(1)
  copy.close()
  const taken: string[] = []
  for (let i = 0; i < 12; i++) taken.push(await backUpFile(book.file, "before-import"))
  const there = (file: string) => statSync(file, { throwIfNoEntry: false }) !== undefined
  expect(taken.map(there)).toEqual([true, false, ...Array.from({ length: 10 }, () => true)])
  expect(there(byHand)).toBe(true)
})
