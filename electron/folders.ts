import { readFileSync } from "node:fs"
import { homedir } from "node:os"
import { join } from "node:path"

/** What folders follow from: the system, its variables and the user's home. */
export type System = {
  readonly platform: NodeJS.Platform
  readonly env: Readonly<Record<string, string | undefined>>
  readonly home: string
}

export function thisSystem(): System {
  return { platform: process.platform, env: process.env, home: homedir() }
}

/** Where this user's programs keep what is no document: window places, recent files, the log. */
export function configFolder({ platform, env, home }: System): string {
  if (platform === "win32") return join(env["APPDATA"] ?? join(home, "AppData", "Roaming"), "Stintbook")
  if (platform === "darwin") return join(home, "Library", "Application Support", "Stintbook")
  return join(absolute(env["XDG_CONFIG_HOME"]) ?? join(home, ".config"), "stintbook")
}

/** The one logbook folder, in the user's documents. */
export function logbookFolder(system: System): string {
  return join(documents(system), "Stintbook")
}

/** Source: XDG user directories, `user-dirs.dirs`, whose lines are `XDG_DOCUMENTS_DIR="$HOME/Name"` (from memory). */
function documents({ platform, env, home }: System): string {
  const usual = join(home, "Documents")
  if (platform === "win32" || platform === "darwin") return usual
  const config = absolute(env["XDG_CONFIG_HOME"]) ?? join(home, ".config")
  const named = /^XDG_DOCUMENTS_DIR="([^"]+)"/m.exec(textOf(join(config, "user-dirs.dirs")))?.[1]
  return absolute(named?.replace(/^\$HOME(?=\/|$)/, home)) ?? usual
}

/** XDG folders that are no absolute paths are to be ignored. */
function absolute(path: string | undefined): string | null {
  return path?.startsWith("/") === true ? path : null
}

function textOf(file: string): string {
  try {
    return readFileSync(file, "utf8")
  } catch {
    return ""
  }
}
