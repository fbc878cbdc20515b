import { mkdirSync, readdirSync, statSync } from "node:fs"
import { join } from "node:path"
import type { DeskState } from "../../shared/desk.ts"
import { ProblemError } from "../../shared/problems.ts"
import { hasSetting } from "../store/peek.ts"
import { sampleKey } from "./sample.ts"

type Listed = DeskState["files"][number]

const ending = ".stintbook"

/** The one folder of logbooks, as far as the window may know of it: names, never paths. */
export type DeskFiles = {
  /** Every logbook file in the folder by name. `open` is the path of the one that is open, if any, and whether it is the sample. */
  list(open: { readonly file: string; readonly sample: boolean } | null): Listed[]
  /** The path of a name, with the ending of a logbook. Throws ProblemError "bad_input" for what is no name in the folder. */
  path(name: string): string
  /** Where the sample is, or is to be made: never where a file that is none stands. */
  samplePlace(): { readonly file: string; readonly there: boolean }
}

/** A folder of logbooks, made when first looked into. Whether a file is the sample is read once for each state of it. */
export function deskFiles(folder: string): DeskFiles {
  const samples = new Map<string, { readonly state: string; readonly sample: boolean }>()
  const isSample = (file: string): boolean => {
    const { size, mtimeMs } = statSync(file)
    const state = `${size} ${mtimeMs}`
    const known = samples.get(file)
    if (known?.state === state) return known.sample
    const sample = hasSetting(file, sampleKey)
    samples.set(file, { state, sample })
    return sample
  }
  const path = (name: string): string => {
    const whole = name.endsWith(ending) ? name : `${name}${ending}`
    if (/[/\\]/.test(name) || whole === ending || /^\.+$/.test(name))
      throw new ProblemError("bad_input", `"${name}" is no name of a logbook in the folder.`, { name })
    return join(folder, whole)
  }
  return {
    path,
    list: (open) => {
      mkdirSync(folder, { recursive: true })
      return readdirSync(folder, { withFileTypes: true })
        .filter((entry) => !entry.isDirectory() && entry.name.endsWith(ending))
        .flatMap(({ name }) => {
          const file = join(folder, name)
          const found = statSync(file, { throwIfNoEntry: false })
          if (found?.isFile() !== true) return []
          const sample = open?.file === file ? open.sample : isSample(file)
          return [{ name, bytes: found.size, changed_at: Math.round(found.mtimeMs), sample }]
        })
        .toSorted((a, b) => a.name.localeCompare(b.name))
    },
    samplePlace: () => {
      mkdirSync(folder, { recursive: true })
      for (let n = 1; ; n++) {
        const file = path(n === 1 ? "sample" : `sample-${n}`)
        if (statSync(file, { throwIfNoEntry: false }) === undefined) return { file, there: false }
        if (isSample(file)) return { file, there: true }
      }
    },
  }
}
