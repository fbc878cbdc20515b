import { EventEmitter } from "node:events"
import { readFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test } from "vitest"
import { guardContents, guardSession, type GuardedSession } from "../../../electron/guard.ts"

// What Electron itself would call is called here; that Electron's own types fit is checked where main.ts is type-checked.

/** Stands for a window's contents: events by name, and the one handler. */
class Contents extends EventEmitter {
  open: (details: { url: string }) => { action: string } = () => ({ action: "none set" })

  setWindowOpenHandler(handler: (details: { url: string }) => { action: "deny" }): void {
    this.open = handler
  }

  /** Whether the guard stops a navigation of this kind. */
  stops(kind: string, url: string): boolean {
    let stopped = false
    this.emit(kind, { url, preventDefault: () => (stopped = true) })
    return stopped
  }
}

function guarded() {
  const contents = new Contents()
  const outside: string[] = []
  guardContents(contents, (address) => outside.push(address))
  return { contents, outside }
}

test.each(["will-navigate", "will-redirect", "will-frame-navigate"])("%s stays with our page", (kind) => {
  const { contents } = guarded()
  for (const url of [
    "https://example.com/",
    "file:///etc/passwd",
    "stintbook://app@evil/",
    "javascript:alert(1)",
    "data:text/html,x",
    "about:blank",
  ])
    expect(contents.stops(kind, url), url).toBe(true)
  expect(contents.stops(kind, "stintbook://app/index.html#/trips")).toBe(false)
})

test("no web view is attached, whatever it shows", () => {
  expect(guarded().contents.stops("will-attach-webview", "stintbook://app/index.html")).toBe(true)
})

test("no window opens; a link to a named agency goes to the system's browser, any other nowhere", () => {
  const { contents, outside } = guarded()
  for (const url of [
    "https://example.com/",
    "file:///usr/bin/true",
    "https://www.weather.gov/marine/",
    "stintbook://app/index.html",
  ])
    expect(contents.open({ url }).action, url).toBe("deny")
  expect(outside).toEqual(["https://www.weather.gov/marine/"])
})

/** Stands for a session; keeps what the guard sets, to be asked. */
function guardedSession() {
  const set = {
    request: (_permission: string): boolean | null => null,
    check: (_permission: string): boolean => true,
    device: (): boolean => true,
    urls: new Array<string>(),
    cancelled: false,
  }
  const session: GuardedSession = {
    setPermissionRequestHandler: (handler) => {
      set.request = (permission) => {
        let granted: boolean | null = null
        handler(null, permission, (answer) => (granted = answer))
        return granted
      }
    },
    setPermissionCheckHandler: (handler) => {
      set.check = (permission) => handler(null, permission)
    },
    setDevicePermissionHandler: (handler) => {
      set.device = handler
    },
    webRequest: {
      onBeforeRequest: ({ urls }, listener) => {
        set.urls = urls
        listener({}, ({ cancel }) => (set.cancelled = cancel))
      },
    },
  }
  guardSession(session)
  return set
}

test("permissions are denied, asked for or looked up, and devices too; text may be copied", () => {
  const { request, check, device } = guardedSession()
  for (const permission of ["media", "geolocation", "notifications", "openExternal", "fileSystem"])
    expect([request(permission), check(permission)], permission).toEqual([false, false])
  expect([request("clipboard-sanitized-write"), check("clipboard-sanitized-write")]).toEqual([true, true])
  expect(device()).toBe(false)
})

test("nothing is asked of the network or of other files", () => {
  const { urls, cancelled } = guardedSession()
  expect(cancelled).toBe(true)
  expect(urls).toEqual(["http://*/*", "https://*/*", "ws://*/*", "wss://*/*", "file:///*"])
})

// That main.ts uses all of this cannot be seen without the Electron runtime; its text is held to it instead.
test("the main process guards every window's contents, the session, and every message", () => {
  const main = readFileSync(join(import.meta.dirname, "../../../electron/main.ts"), "utf8")
  expect(main).toMatch(/app\.on\("web-contents-created", \(_event, contents\) =>\s*guardContents\(contents,/)
  expect(main).toContain("guardSession(session.defaultSession)")
  expect(main).toContain("app.enableSandbox()")
  expect(main).toMatch(/webPreferences: \{ \.\.\.webPreferences, preload:/)
  const handlers = [...main.matchAll(/ipcMain\.(?:on|handle)\(([^\n]+)/g)].map(([line]) => line)
  expect(handlers).toHaveLength(4)
  expect(main).toMatch(/ipcMain\.on\(channels\.able[^}]*isOurs\(event\) \? /)
  expect(main).toMatch(/function giveLine[^}]*!isOurs\(event\)\) return/)
  expect([...main.matchAll(/windowOf\(event\)/g)].length).toBe(2)
  expect(main).toMatch(/function windowOf[^}]*isOurs\(event\)/)
})
