import { resolve } from "node:path"
import { parseArgs } from "node:util"
import { ProblemError } from "../shared/problems.ts"
import { configFolder, logbookFolder, type System } from "./folders.ts"

/** What a start was asked for; all paths are full. */
export type StartOptions = {
  /** A logbook to open, or null. */
  readonly file: string | null
  readonly folder: string
  readonly config: string
  /** `window`: the Electron window where it can be had; `browser`: a browser window; `none`: only print the link. */
  readonly show: "window" | "browser" | "none"
  /** Reload as the code is edited. */
  readonly dev: boolean
}

/** How to start, for whoever asked wrongly. */
const usage = `npm start -- [FILE] [--folder DIR] [--browser | --no-window]
  FILE         the logbook to open
  --folder     where logbooks are kept (the folder Stintbook in your documents)
  --config     where recent files, the log and the window's place are kept
  --browser    open in a browser window even where the Electron runtime is there
  --no-window  open no window; print its address
  --tour       show the sample's first answers in the terminal instead`

const known = {
  folder: { type: "string" },
  config: { type: "string" },
  browser: { type: "boolean", default: false },
  "no-window": { type: "boolean", default: false },
  dev: { type: "boolean", default: false },
} as const

/** Reads the arguments of `npm start`; a ProblemError names what is not understood. Paths are taken from `cwd`. */
export function readStart(args: readonly string[], cwd: string, system: System): StartOptions {
  const { values, positionals } = parsed(args)
  if (positionals.length > 1)
    throw new ProblemError("bad_input", `One logbook can be opened at a start, not ${positionals.length}.`)
  return {
    ...places(positionals[0], values, cwd, system),
    show: values["no-window"] ? "none" : values.browser || values.dev ? "browser" : "window",
    dev: values.dev,
  }
}

/** What the Electron window reads of its own arguments, among which are switches for Chromium; it never refuses. */
export function readWindowStart(
  args: readonly string[],
  cwd: string,
  system: System,
): Pick<StartOptions, "file" | "folder" | "config"> {
  const { values, positionals } = parseArgs({
    args: [...args],
    options: known,
    allowPositionals: true,
    strict: false,
  })
  const text = (value: unknown): string | undefined => (typeof value === "string" ? value : undefined)
  return places(positionals[0], { folder: text(values.folder), config: text(values.config) }, cwd, system)
}

function places(
  file: string | undefined,
  { folder, config }: { readonly folder?: string | undefined; readonly config?: string | undefined },
  cwd: string,
  system: System,
): Pick<StartOptions, "file" | "folder" | "config"> {
  return {
    file: file === undefined ? null : resolve(cwd, file),
    folder: resolve(cwd, folder ?? logbookFolder(system)),
    config: resolve(cwd, config ?? configFolder(system)),
  }
}

function parsed(args: readonly string[]) {
  try {
    return parseArgs({ args: [...args], options: known, allowPositionals: true })
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error)
    throw new ProblemError("bad_input", `${why.replace(/\. To specify a positional.*$/s, ".")}\n${usage}`)
  }
}
