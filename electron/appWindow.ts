import { spawn, type ChildProcess } from "node:child_process"
import { statSync } from "node:fs"
import { delimiter, join } from "node:path"
import type { System } from "./folders.ts"

/** How a window can be opened here: a browser that shows an app window, or whatever the system opens addresses with. */
export type Opener = { readonly command: string; readonly appMode: boolean }

const onPath = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "microsoft-edge"]
const onMac = [
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
]
const onWindows = [
  String.raw`Microsoft\Edge\Application\msedge.exe`,
  String.raw`Google\Chrome\Application\chrome.exe`,
]

/** What opens a window here; null where there is no screen or nothing that could. */
export function findOpener(system: System, exists: (file: string) => boolean = isFile): Opener | null {
  const { platform, env } = system
  if (platform === "linux" && !env["DISPLAY"] && !env["WAYLAND_DISPLAY"]) return null
  const browser = findBrowser(system, exists)
  if (browser !== null) return { command: browser, appMode: true }
  if (platform === "win32") return { command: "explorer.exe", appMode: false }
  if (platform === "darwin") return { command: "/usr/bin/open", appMode: false }
  const opener = inPath(env, ["xdg-open"], exists)
  return opener === null ? null : { command: opener, appMode: false }
}

/** Path of a browser that can show an app window, or null. */
export function findBrowser(
  { platform, env }: System,
  exists: (file: string) => boolean = isFile,
): string | null {
  if (platform === "darwin") return onMac.find(exists) ?? null
  if (platform !== "win32") return inPath(env, onPath, exists)
  const roots = [env["PROGRAMFILES"], env["PROGRAMFILES(X86)"], env["LOCALAPPDATA"]]
  const files = roots.flatMap((root) =>
    root === undefined ? [] : onWindows.map((name) => `${root}\\${name}`),
  )
  return files.find(exists) ?? null
}

function inPath(
  env: System["env"],
  names: readonly string[],
  exists: (file: string) => boolean,
): string | null {
  const folders = (env["PATH"] ?? "").split(delimiter).filter((folder) => folder !== "")
  const files = names.flatMap((name) => folders.map((folder) => join(folder, name)))
  return files.find(exists) ?? null
}

function isFile(file: string): boolean {
  return statSync(file, { throwIfNoEntry: false })?.isFile() === true
}

/** Where the window's browser keeps its profile. One packed as a snap reaches no hidden folder (from memory). */
export function profileFolder({ command }: Opener, config: string, home: string): string {
  return command.startsWith("/snap/")
    ? join(home, "snap", "chromium", "common", "stintbook")
    : join(config, "browser")
}

/**
 * Arguments for an app window with a profile of its own that talks to nobody but us. The browser's own sandbox is given up
 * only where it cannot work, as the super-user of Linux.
 */
export function appArguments(link: string, profile: string, superUser: boolean): string[] {
  return [
    `--app=${link}`,
    `--user-data-dir=${profile}`,
    "--no-first-run",
    "--no-default-browser-check",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    ...(superUser ? ["--no-sandbox"] : []),
  ]
}

/** Whether this process runs as the super-user. */
export function isSuperUser(): boolean {
  return process.getuid?.() === 0
}

/** Opens a window on a link. The returned process, where there is one, is the window's; `failed` is called if it cannot start. */
export function openWindow(opener: Opener, link: string, profile: string, failed: () => void): ChildProcess {
  const args = opener.appMode ? appArguments(link, profile, isSuperUser()) : [link]
  const child = spawn(opener.command, args, { stdio: "ignore", detached: true })
  child.on("error", failed)
  child.unref()
  return child
}
