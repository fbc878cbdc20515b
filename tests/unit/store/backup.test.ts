import { expect, test } from "vitest"
import { writeFileSync } from "node:fs"
import { join } from "node:path"
import { backUpFile, backupFolder, backupsOf, keptBackups } from "../../../core/store/backup.ts"
import { add } from "../../../core/store/put.ts"
import { temporaryLogbook } from "./temporaryLogbook.ts"

/** An automatic backup at noon, or some minutes later, of a day counted from 1 January 2024 on this computer's calendar. */
const backup = (day: number, minutes = 0) => {
  const at = new Date(2024, 0, 1 + day, 12, minutes).getTime()
  return { name: `day ${day} + ${minutes}`, at }
}
const keptOf = (backups: readonly ReturnType<typeof backup>[]) =>
  backups.filter(({ name }) => keptBackups(backups).has(name))

test("two years of daily backups leave the last ten days and the first of each of the last twelve months", () => {
  const kept = keptOf(Array.from({ length: 730 }, (_, day) => backup(day)))
  const days = kept.map(({ at }) => new Date(at))
  expect(days.slice(-10).map((day) => Math.round((day.getTime() - backup(0).at) / 86_400_000))).toEqual(
    Array.from({ length: 10 }, (_, i) => 720 + i),
  )
  const months = days.slice(0, -10)
  expect(months).toHaveLength(12)
  expect(months.every((day) => day.getDate() === 1)).toBe(true)
  expect(new Set(months.map((day) => day.getMonth())).size).toBe(12)
})

test("a busy day keeps its ten newest and its first, and does not push out the days before", () => {
  const quiet = Array.from({ length: 5 }, (_, day) => backup(day))
  const busy = Array.from({ length: 30 }, (_, i) => backup(5, i))
  const kept = keptOf([...quiet, ...busy])
  expect(kept).toEqual([...quiet, busy[0], ...busy.slice(-10)])
})

test("few backups are all kept", () => {
  const few = [backup(0), backup(0, 1), backup(400)]
  expect(keptOf(few)).toEqual(few)
  expect(keptBackups([]).size).toBe(0)
})

test("backups are listed newest first, each with its reason, and other files in the folder are left alone", async () => {
  const book = temporaryLogbook()
  book.change((change) => add(change, "angler", { name: "Ada" }))
  const before = Date.now()
  for (const reason of ["by-hand", "before-import", "before-import", "before-upgrade", "daily"] as const)
    await backUpFile(book.file, reason)
  writeFileSync(join(backupFolder(book.file), "notes.stintbook"), "mine")
  const listed = backupsOf(book.file)
  expect(listed.map(({ why }) => why).toSorted()).toEqual([
    "before an import",
    "before an import",
    "before an upgrade",
    "before the day's first change",
    "by hand",
  ])
  expect(listed.map(({ at }) => at)).toEqual(listed.map(({ at }) => at).toSorted((a, b) => b - a))
  for (const { at, bytes } of listed) {
    expect(Math.abs(at - before)).toBeLessThan(60_000)
    expect(bytes).toBeGreaterThan(1000)
  }
})
