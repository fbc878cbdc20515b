import { readFileSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { describe, expect, test } from "vitest"
import { appArguments, findOpener, profileFolder } from "../../../electron/appWindow.ts"
import type { System } from "../../../electron/folders.ts"
import { greyOthers, menuTemplate } from "../../../electron/menu.ts"
import { keepWindowState, placeFor, readWindowState } from "../../../electron/windowState.ts"
import { commands } from "../../../shared/commands.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"

const linux = (env: System["env"]): System => ({ platform: "linux", env, home: "/home/nobody" })
const only =
  (...files: string[]) =>
  (file: string): boolean =>
    files.includes(file)

describe("what opens a window", () => {
  const screen = { DISPLAY: ":0", PATH: "/usr/local/bin:/usr/bin" }

  test("a browser on the path, in app mode", () => {
    expect(findOpener(linux(screen), only("/usr/bin/chromium", "/usr/bin/xdg-open"))).toEqual({
      command: "/usr/bin/chromium",
      appMode: true,
    })
  })

  test("else whatever opens addresses", () => {
    expect(findOpener(linux(screen), only("/usr/bin/xdg-open"))).toEqual({
      command: "/usr/bin/xdg-open",
      appMode: false,
    })
    expect(findOpener({ ...linux({}), platform: "darwin" }, only())?.command).toBe("/usr/bin/open")
    expect(findOpener({ ...linux({}), platform: "win32" }, only())?.command).toBe("explorer.exe")
  })

  test("nothing without a screen, or without any of them", () => {
    expect(findOpener(linux({ PATH: "/usr/bin" }), only("/usr/bin/chromium"))).toBeNull()
    expect(findOpener(linux(screen), only())).toBeNull()
  })

  test("a browser that reaches no hidden folder has its profile where it may", () => {
    const at = (command: string) => profileFolder({ command, appMode: true }, "/home/x/.config/s", "/home/x")
    expect(at("/usr/bin/chromium")).toBe("/home/x/.config/s/browser")
    expect(at("/snap/bin/chromium")).toBe("/home/x/snap/chromium/common/stintbook")
  })

  test("the browser keeps its sandbox, unless it runs as the super-user", () => {
    const link = "http://127.0.0.1:1/enter/x"
    const args = appArguments(link, "/c/browser", false)
    expect(args).toContain(`--app=${link}`)
    expect(args).toContain("--user-data-dir=/c/browser")
    expect(args.join(" ")).not.toMatch(/no-sandbox|disable-web-security|remote-debugging/)
    expect(appArguments(link, "/c/browser", true)).toEqual([...args, "--no-sandbox"])
  })
})

describe("the window's place", () => {
  const screens = [
    { x: 0, y: 0, width: 1920, height: 1080 },
    { x: 1920, y: 0, width: 1280, height: 1024 },
  ]
  const state = { x: 2000, y: 100, width: 900, height: 700, maximized: false }

  test("is kept and taken up again", () => {
    const file = join(temporaryFolder(), "config", "window.json")
    expect(readWindowState(file)).toBeNull()
    keepWindowState(file, state)
    expect(readWindowState(file)).toEqual(state)
    expect(placeFor(state, screens)).toEqual({ x: 2000, y: 100, width: 900, height: 700 })
  })

  test("is forgotten where its screen is gone or the file makes no sense", () => {
    expect(placeFor(state, screens.slice(0, 1))).toEqual({ width: 900, height: 700 })
    expect(placeFor({ ...state, y: -500 }, screens)).toEqual({ width: 900, height: 700 })
    expect(placeFor(null, screens)).toEqual({ width: 1280, height: 860 })
    const file = join(temporaryFolder(), "window.json")
    for (const text of [
      "",
      "{",
      "[]",
      JSON.stringify({ ...state, width: 1 }),
      JSON.stringify({ ...state, x: "0" }),
    ]) {
      writeFileSync(file, text)
      expect(readWindowState(file), text).toBeNull()
    }
  })

  test("that cannot be kept stops nobody", () => {
    const file = join(temporaryFolder(), "taken")
    writeFileSync(file, "")
    keepWindowState(join(file, "window.json"), state)
    expect(readFileSync(file, "utf8")).toBe("")
  })
})

describe("the menu bar", () => {
  const entries = (platform: NodeJS.Platform, chosen: string[] = []) =>
    menuTemplate(commands, platform, (id) => chosen.push(id)).flatMap(({ submenu }) =>
      Array.isArray(submenu) ? submenu : [],
    )

  test("has every command once, and the system's own entries", () => {
    const ids = entries("linux").flatMap(({ id }) => id ?? [])
    expect(ids.toSorted()).toEqual(commands.map(({ id }) => id).toSorted())
    const roles = entries("linux").flatMap(({ role }) => role ?? [])
    expect(roles).toEqual(expect.arrayContaining(["undo", "copy", "paste", "zoomIn", "quit"]))
    expect(entries("darwin").some(({ role }) => role === "quit")).toBe(false) // the system's own menu has it
    expect(menuTemplate(commands, "darwin", () => undefined)[0]?.role).toBe("appMenu")
  })

  test("shows keys in Electron's notation, and leaves it to the page to hear them", () => {
    const list = entries("linux").find(({ id }) => id === "list.open")
    expect([list?.accelerator, list?.registerAccelerator]).toEqual(["CmdOrCtrl+K", false])
    expect(entries("linux").find(({ id }) => id === "trips.search")?.accelerator).toBeUndefined()
  })

  test("tells which command was chosen", () => {
    const chosen: string[] = []
    for (const { click } of entries("linux", chosen)) if (click !== undefined) Reflect.apply(click, null, [])
    expect(chosen.toSorted()).toEqual(commands.map(({ id }) => id).toSorted())
  })

  test("greys what does nothing in the page, and lets a page say anything", () => {
    const items = new Map(commands.map(({ id }) => [String(id), { enabled: true }]))
    const menu = { getMenuItemById: (id: string) => items.get(id) ?? null }
    const lit = () => [...items].filter(([, { enabled }]) => enabled).map(([id]) => id)
    greyOthers(menu, commands, ["go.files", "no.command", 7])
    expect(lit()).toEqual(["go.files"])
    greyOthers(menu, commands, ["go.logbook", "go.files"])
    expect(lit()).toEqual(["go.logbook", "go.files"])
    greyOthers(menu, commands, "all of them")
    expect(lit()).toEqual([])
  })

  test("opens no tools for developers", () => {
    expect(JSON.stringify(entries("linux"))).not.toMatch(/devtools|reload/i)
  })
})
