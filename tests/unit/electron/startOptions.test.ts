import { mkdirSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { describe, expect, test } from "vitest"
import { configFolder, logbookFolder, type System } from "../../../electron/folders.ts"
import { readStart, readWindowStart } from "../../../electron/startOptions.ts"
import { ProblemError } from "../../../shared/problems.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"

const linux: System = { platform: "linux", env: {}, home: "/home/nobody" }

describe("folders", () => {
  test("the usual ones", () => {
    expect(logbookFolder(linux)).toBe("/home/nobody/Documents/Stintbook")
    expect(configFolder(linux)).toBe("/home/nobody/.config/stintbook")
    expect(configFolder({ ...linux, platform: "darwin" })).toBe(
      "/home/nobody/Library/Application Support/Stintbook",
    )
    expect(configFolder({ ...linux, platform: "win32", env: { APPDATA: "/appdata" } })).toBe(
      join("/appdata", "Stintbook"),
    )
  })

  // XDG Base Directory Specification 0.8, "Environment variables": a path that is not absolute is to be ignored.
  test("the user's own, where the system names them", () => {
    const config = temporaryFolder()
    const system = (env: System["env"]): System => ({ ...linux, env })
    expect(configFolder(system({ XDG_CONFIG_HOME: config }))).toBe(join(config, "stintbook"))
    expect(configFolder(system({ XDG_CONFIG_HOME: "relative" }))).toBe("/home/nobody/.config/stintbook")
    writeFileSync(
      join(config, "user-dirs.dirs"),
      `# comment\nXDG_MUSIC_DIR="$HOME/Musik"\nXDG_DOCUMENTS_DIR="$HOME/Dokumente"\n`,
    )
    expect(logbookFolder(system({ XDG_CONFIG_HOME: config }))).toBe("/home/nobody/Dokumente/Stintbook")
    mkdirSync(join(config, "b"))
    writeFileSync(join(config, "b", "user-dirs.dirs"), `XDG_DOCUMENTS_DIR="relative"`)
    expect(logbookFolder(system({ XDG_CONFIG_HOME: join(config, "b") }))).toBe(
      "/home/nobody/Documents/Stintbook",
    )
  })
})

describe("what a start is asked for", () => {
  const read = (...args: string[]) => readStart(args, "/home/ada", linux)

  test("nothing: the window, on the usual folder", () => {
    expect(read()).toEqual({
      file: null,
      folder: "/home/nobody/Documents/Stintbook",
      config: "/home/nobody/.config/stintbook",
      show: "window",
      dev: false,
    })
  })

  test("a file and folders, taken from where the user is", () => {
    const { file, folder, config } = read("a.stintbook", "--folder", "books", "--config=/c")
    expect([file, folder, config]).toEqual(["/home/ada/a.stintbook", "/home/ada/books", "/c"])
  })

  test.each([
    [["--no-window"], "none"],
    [["--browser"], "browser"],
    [["--dev"], "browser"],
    [["--no-window", "--browser"], "none"],
  ])("%j", (args, show) => {
    expect(read(...args).show).toBe(show)
  })

  test.each([
    [["--nonsense"], /--nonsense/],
    [["--folder"], /folder/],
    [["a", "b"], /One logbook can be opened at a start, not 2/],
  ])("%j is refused by a sentence", (args, sentence) => {
    expect(() => read(...args)).toThrow(ProblemError)
    expect(() => read(...args)).toThrow(sentence)
  })

  test("the Electron window leaves Chromium's switches alone", () => {
    const { file, folder } = readWindowStart(
      ["--no-sandbox", "a.stintbook", "--folder=/books", "--gpu=off", "-psn_0_1"],
      "/home/ada",
      linux,
    )
    expect([file, folder]).toEqual(["/home/ada/a.stintbook", "/books"])
    expect(readWindowStart([], "/home/ada", linux).file).toBeNull()
  })
})
