import { existsSync, mkdirSync, readdirSync, renameSync, rmSync } from "node:fs"
import { basename, dirname, join } from "node:path"
import Database from "better-sqlite3"

/** Why a backup was taken; part of its name. */
export type BackupReason = "before-upgrade" | "before-import" | "by-hand"

const kept = 10

/** The folder beside a logbook that holds its backups. */
const backupFolder = (file: string): string =>
  join(dirname(file), `${basename(file).replace(/\.stintbook$/, "")}.backups`)

/**
 * Copies a logbook, open or not, into its backup folder and keeps the newest ten taken automatically (those taken by
 * hand stay). The copy has its final name only once it is whole. Returns the copy's path.
 */
export async function backUpFile(file: string, reason: BackupReason): Promise<string> {
  const folder = backupFolder(file)
  mkdirSync(folder, { recursive: true })
  const stamp = new Date().toISOString().replaceAll(/[-:]/g, "").replace(/\..*/, "Z")
  const target = freeName(folder, `${stamp}-${reason}`)
  const db = new Database(file, { readonly: true })
  try {
    await db.backup(`${target}.part`)
  } finally {
    db.close()
  }
  renameSync(`${target}.part`, target)
  const automatic = readdirSync(folder)
    .filter((name) => name.endsWith(".stintbook") && !name.includes("by-hand"))
    .toSorted()
  for (const old of automatic.slice(0, -kept)) rmSync(join(folder, old))
  return target
}

function freeName(folder: string, stem: string): string {
  for (let n = 1; ; n++) {
    const path = join(folder, n === 1 ? `${stem}.stintbook` : `${stem}-${n}.stintbook`)
    if (!existsSync(path)) return path
  }
}
