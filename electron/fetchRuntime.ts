import { spawn } from "node:child_process"
import { existsSync, readFileSync } from "node:fs"
import { join } from "node:path"
import { downloadArtifact } from "@electron/get"
import { z } from "zod"

/** Where the Electron runtime is, or a sentence's worth of why it is not to be had. */
export type Runtime = { readonly path: string } | { readonly why: string }

/** How long to wait: for the first byte, and for the next once it began to come. */
export type Patience = { readonly firstMs: number; readonly nextMs: number }
const patience: Patience = { firstMs: 3000, nextMs: 20_000 }
const unpackMs = 120_000

/** The Electron runtime: the one unpacked before, else fetched, checked by its checksum and unpacked. */
export async function electronRuntime(electron: string): Promise<Runtime> {
  const before = unpacked(electron)
  if (before !== null) return { path: before }
  const why = await fetchRuntime(electron, patience)
  if (why !== null) return { why }
  await unpack(electron)
  const path = unpacked(electron)
  return path === null ? { why: "it could not be unpacked" } : { path }
}

/** Path of the runtime's program below the package's folder, or null where it is not unpacked. */
function unpacked(electron: string): string | null {
  try {
    const program = readFileSync(join(electron, "path.txt"), "utf8").trim()
    const folder = process.env["ELECTRON_OVERRIDE_DIST_PATH"] ?? join(electron, "dist")
    const path = join(folder, program)
    return existsSync(path) ? path : null
  } catch {
    return null
  }
}

/** Lets the package's own installer unpack what was fetched into its cache. */
function unpack(electron: string): Promise<void> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [join(electron, "install.js")], {
      stdio: "ignore",
      timeout: unpackMs,
    })
    child.on("error", () => resolve())
    child.on("exit", () => resolve())
  })
}

/**
 * Fetches the runtime of the installed package into the cache; null when that went well, else why not. Never waits longer
 * than told for a server that says nothing.
 */
export async function fetchRuntime(
  electron: string,
  { firstMs, nextMs }: Patience,
  from: { readonly mirror?: string; readonly cacheRoot?: string } = {},
): Promise<string | null> {
  const { version } = z.object({ version: z.string() }).parse(jsonIn(join(electron, "package.json")))
  const checksums = z.record(z.string(), z.string()).parse(jsonIn(join(electron, "checksums.json")))
  const waiting = new AbortController()
  let timer = setTimeout(() => waiting.abort(), firstMs)
  const heard = async (): Promise<void> => {
    clearTimeout(timer)
    timer = setTimeout(() => waiting.abort(), nextMs)
  }
  try {
    await downloadArtifact({
      version,
      artifactName: "electron",
      platform: process.platform,
      arch: process.arch,
      checksums,
      downloadOptions: { signal: waiting.signal, quiet: true, getProgressCallback: heard },
      ...(from.mirror === undefined ? {} : { mirrorOptions: { mirror: from.mirror } }),
      ...(from.cacheRoot === undefined ? {} : { cacheRoot: from.cacheRoot }),
    })
    return null
  } catch (error) {
    return waiting.signal.aborted ? "no answer in time" : reason(error)
  } finally {
    clearTimeout(timer)
  }
}

const jsonIn = (file: string): unknown => JSON.parse(readFileSync(file, "utf8"))

/** The shortest honest reason: the system's code where there is one. */
function reason(error: unknown): string {
  if (!(error instanceof Error)) return String(error)
  const { cause } = error
  if (cause instanceof Error)
    return "code" in cause && typeof cause.code === "string" ? cause.code : cause.message
  return error.message.split("\n", 1)[0] ?? "unknown"
}
