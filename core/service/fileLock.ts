import { randomUUID } from "node:crypto"
import { readFileSync, renameSync, rmSync, statSync, utimesSync, writeFileSync } from "node:fs"
import { hostname } from "node:os"
import { basename } from "node:path"
import { z } from "zod"
import type { ReadOnly } from "../store/open.ts"

/** How often a holder says that it is still there, and after how long of silence it counts as gone, ms. */
const beat = 20_000
const silence = 120_000

const Holder = z.object({ id: z.string(), pid: z.int(), machine: z.string() })
type Holder = z.infer<typeof Holder>

/** The right to write a logbook, or why another host has it. */
export type FileLock = { readonly readOnly: ReadOnly | null; release(): void }

/**
 * Takes the right to write a logbook: a file beside it names the process that holds it. A lock of a process that is gone, or
 * that has been silent for two minutes, is taken over, and so is one of this very process, whose threads may be started
 * again. Where no such file can be made the logbook is to be read only.
 */
export function lockFile(file: string): FileLock {
  const path = `${file}.lock`
  const own: Holder = { id: randomUUID(), pid: process.pid, machine: hostname() }
  const held = (readOnly: ReadOnly): FileLock => ({ readOnly, release: () => undefined })
  try {
    if (!madeNew(path, own)) {
      const holder = holderOf(path)
      if (holder !== null && isThere(holder, path))
        return held({
          code: "read_only",
          message: `${basename(file)} is open in another window of Stintbook${where(holder)}, so it can only be read here. Close it there, then open it again.`,
        })
      takeOver(path, own)
      if (holderOf(path)?.id !== own.id) return lockFile(file)
    }
  } catch {
    return held({
      code: "read_only",
      message: `Nothing can be written in the folder of ${basename(file)}, so it can only be read. Move it to a folder of your own to change it.`,
    })
  }
  const isOwn = (): boolean => holderOf(path)?.id === own.id
  const alive = setInterval(() => {
    if (isOwn()) touch(path)
  }, beat).unref()
  return {
    readOnly: null,
    release: () => {
      clearInterval(alive)
      if (isOwn()) rmSync(path, { force: true })
    },
  }
}

const where = ({ machine }: Holder): string => (machine === hostname() ? "" : ` on ${machine}`)

function madeNew(path: string, own: Holder): boolean {
  try {
    writeFileSync(path, JSON.stringify(own), { flag: "wx" })
    return true
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "EEXIST") return false
    throw error
  }
}

function takeOver(path: string, own: Holder): void {
  const next = `${path}.${own.id}`
  writeFileSync(next, JSON.stringify(own))
  renameSync(next, path)
}

function holderOf(path: string): Holder | null {
  try {
    return Holder.parse(JSON.parse(readFileSync(path, "utf8")))
  } catch {
    return null
  }
}

function isThere({ pid, machine }: Holder, path: string): boolean {
  const seen = statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0
  if (Date.now() - seen > silence) return false
  return machine !== hostname() || (pid !== process.pid && isRunning(pid))
}

/** Signal 0 reaches every process that is there; one of another user answers that it may not be asked. */
function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return error instanceof Error && "code" in error && error.code === "EPERM"
  }
}

function touch(path: string): void {
  try {
    const now = new Date()
    utimesSync(path, now, now)
  } catch {
    // Gone between two looks: whoever removed it meant it.
  }
}
