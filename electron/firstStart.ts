import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { request } from "node:http"
import { join } from "node:path"
import { z } from "zod"
import { AgainAnswer, againPath, type AgainAsk } from "./again.ts"

/** The host that runs: who it is, where it listens, and what only its own user can read. */
const Lock = z.object({
  pid: z.int().positive(),
  port: z.int().min(1).max(65_535),
  secret: z.string().min(1),
})
type Lock = z.infer<typeof Lock>

const answersWithinMs = 3000

/**
 * Asks the host that runs with this config folder, if any, for a window's link, and hands it the file to open. Null where
 * none runs; a lock left by one that was killed is taken away.
 */
export async function askFirst(config: string, ask: AgainAsk): Promise<string | null> {
  const lock = readLock(config)
  const link = lock !== null && isAlive(lock.pid) ? await linkFrom(lock, ask) : null
  if (link === null) rmSync(lockFile(config), { force: true })
  return link
}

/**
 * Declares this process the host of the config folder. Returns how to step down, or null where another came first.
 */
export function claim(config: string, host: Omit<Lock, "pid">): (() => void) | null {
  const lock: Lock = { pid: process.pid, ...host }
  mkdirSync(config, { recursive: true })
  try {
    writeFileSync(lockFile(config), JSON.stringify(lock), { flag: "wx", mode: 0o600 })
  } catch {
    return null
  }
  return () => {
    if (readLock(config)?.secret === lock.secret) rmSync(lockFile(config), { force: true })
  }
}

const lockFile = (config: string): string => join(config, "host.json")

function readLock(config: string): Lock | null {
  try {
    return Lock.parse(JSON.parse(readFileSync(lockFile(config), "utf8")))
  } catch {
    return null
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return error instanceof Error && "code" in error && error.code === "EPERM"
  }
}

/** The link, or null where nobody of ours answers in time. */
function linkFrom({ port, secret }: Lock, ask: AgainAsk): Promise<string | null> {
  return new Promise((resolve) => {
    const asked = request(
      {
        host: "127.0.0.1",
        port,
        path: againPath,
        method: "POST",
        headers: { authorization: `Bearer ${secret}`, "Content-Type": "application/json" },
        signal: AbortSignal.timeout(answersWithinMs),
      },
      (response) => {
        let text = ""
        response.setEncoding("utf8")
        response.on("data", (part: string) => (text += part))
        response.on("error", () => resolve(null))
        response.on("end", () => resolve(response.statusCode === 200 ? linkIn(text) : null))
      },
    )
    asked.on("error", () => resolve(null))
    asked.end(JSON.stringify(ask))
  })
}

function linkIn(text: string): string | null {
  try {
    return AgainAnswer.parse(JSON.parse(text)).link
  } catch {
    return null
  }
}
