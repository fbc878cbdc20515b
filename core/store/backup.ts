import { existsSync, mkdirSync, readdirSync, renameSync, rmSync, statSync } from "node:fs"
import { basename, dirname, join } from "node:path"
import Database from "better-sqlite3"
import type { Backup } from "../../shared/desk.ts"
import { asProblem } from "./sqliteProblems.ts"

/** Why a backup was taken: part of its name, and in words. */
const reasons = {
  daily: "before the day's first change",
  "before-upgrade": "before an upgrade",
  "before-import": "before an import",
  "by-hand": "by hand",
} as const
export type BackupReason = keyof typeof reasons

/** How many of the newest automatic backups are kept, and for how many days and months the first of each. */
const kept = { newest: 10, days: 10, months: 12 } as const

/** A logbook's name without its ending, by which what stands beside it is called. */
export const stemOf = (file: string): string =>
  join(dirname(file), basename(file).replace(/\.stintbook$/, ""))

/** The folder beside a logbook that holds its backups. */
export const backupFolder = (file: string): string => `${stemOf(file)}.backups`

/**
 * Copies a logbook, open or not, into its backup folder and forgets the automatic ones that are no longer kept (those
 * taken by hand stay). The copy has its final name only once it is whole. Returns the copy's path. Throws a ProblemError
 * where there is no room or no way to write it.
 */
export async function backUpFile(file: string, reason: BackupReason): Promise<string> {
  const folder = backupFolder(file)
  const stamp = new Date().toISOString().replaceAll(/[-:]/g, "").replace(/\..*/, "Z")
  mkdirSync(folder, { recursive: true })
  const target = freeName(join(folder, `${stamp}-${reason}`))
  try {
    const db = new Database(file, { readonly: true })
    try {
      await db.backup(`${target}.part`)
    } finally {
      db.close()
    }
  } catch (error) {
    rmSync(`${target}.part`, { force: true })
    throw asProblem(error, target)
  }
  renameSync(`${target}.part`, target)
  const automatic = namesIn(folder).filter(({ reason: why }) => why !== "by-hand")
  const keep = keptBackups(automatic)
  for (const { name } of automatic) if (!keep.has(name)) rmSync(join(folder, name))
  return target
}

/** Every backup of a logbook, newest first. */
export const backupsOf = (file: string): Backup[] =>
  namesIn(backupFolder(file))
    .map(({ name, at, reason }) => ({
      name,
      at,
      bytes: statSync(join(backupFolder(file), name)).size,
      why: reasons[reason],
    }))
    .toReversed()

/** Whether a backup was taken on the computer's calendar day that holds `now`, UTC ms. */
export const backedUpOn = (file: string, now: number): boolean =>
  namesIn(backupFolder(file)).some(({ at }) => dayOf(at) === dayOf(now))

type Named = { readonly name: string; readonly at: number }

/**
 * Which of the automatic backups, oldest first, are kept: the ten newest, the first of each of the ten latest days, and the
 * first of each of the twelve latest months. Days and months are the computer's.
 */
export function keptBackups(backups: readonly Named[]): ReadonlySet<string> {
  const firstOf = (period: (at: number) => string, count: number): Named[] =>
    [...Map.groupBy(backups, ({ at }) => period(at)).values()].flatMap(([first]) => first ?? []).slice(-count)
  const keep = [
    ...backups.slice(-kept.newest),
    ...firstOf(dayOf, kept.days),
    ...firstOf((at) => dayOf(at).slice(0, 7), kept.months),
  ]
  return new Set(keep.map(({ name }) => name))
}

/** The computer's own date at an instant, YYYY-MM-DD. */
export function dayOf(at: number): string {
  const day = new Date(at)
  const two = (value: number) => String(value).padStart(2, "0")
  return `${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}`
}

const isReason = (word: string): word is BackupReason => word in reasons
const form = /^(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)Z-([a-z]+(?:-[a-z]+)*)(?:-(\d+))?\.stintbook$/

/** The backups in a folder, oldest first; other files are left alone. */
function namesIn(folder: string): (Named & { readonly reason: BackupReason })[] {
  if (!existsSync(folder)) return []
  return readdirSync(folder)
    .flatMap((name) => {
      const [, year, month, day, hour, minute, second, reason = "", turn = "1"] = form.exec(name) ?? []
      const at = Date.parse(`${year}-${month}-${day}T${hour}:${minute}:${second}Z`)
      return isReason(reason) && !Number.isNaN(at) ? [{ name, at, reason, turn: Number(turn) }] : []
    })
    .toSorted((a, b) => a.at - b.at || a.turn - b.turn)
}

/** The first of `stem.stintbook`, `stem-2.stintbook` and so on that does not exist. */
export function freeName(stem: string): string {
  for (let n = 1; ; n++) {
    const path = n === 1 ? `${stem}.stintbook` : `${stem}-${n}.stintbook`
    if (!existsSync(path)) return path
  }
}
