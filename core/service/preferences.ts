import { mkdirSync, readFileSync, renameSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { z } from "zod"
import { PreferencesChange, type Preferences } from "../../shared/desk.ts"

const mostRecent = 10

const usual: Preferences = { theme: "system", text_size: "normal" }

const chosen = (standing: Preferences, { theme, text_size }: PreferencesChange): Preferences => ({
  theme: theme ?? standing.theme,
  text_size: text_size ?? standing.text_size,
})

const Kept = z.object({
  preferences: PreferencesChange.default({}).transform((kept) => chosen(usual, kept)),
  /** Names of logbooks in the folder, latest first. */
  recent: z.array(z.string()).default([]),
})
type Kept = z.infer<typeof Kept>

/** What this computer's user likes and has opened: a JSON file in the config folder. */
export type DeskMemory = {
  preferences(): Preferences
  prefer(wanted: PreferencesChange): Preferences
  recent(): readonly string[]
  opened(name: string): void
}

/**
 * Reads the file once and writes it whole after each change. A damaged one is kept aside and forgotten, since nothing in it
 * is worth more than opening the product; one that cannot be written holds for this time only.
 */
export function deskMemory(config: string): DeskMemory {
  const file = join(config, "desk.json")
  let kept = read(file)
  const keep = (next: Kept): void => {
    kept = next
    try {
      mkdirSync(config, { recursive: true })
      writeFileSync(`${file}.part`, JSON.stringify(kept, null, 1))
      renameSync(`${file}.part`, file)
    } catch {
      // Held until the program ends.
    }
  }
  return {
    preferences: () => kept.preferences,
    prefer: (wanted) => {
      keep({ ...kept, preferences: chosen(kept.preferences, wanted) })
      return kept.preferences
    },
    recent: () => kept.recent,
    opened: (name) =>
      keep({ ...kept, recent: [name, ...kept.recent.filter((one) => one !== name)].slice(0, mostRecent) }),
  }
}

function read(file: string): Kept {
  const text = textOf(file)
  if (text === null) return Kept.parse({})
  try {
    return Kept.parse(JSON.parse(text))
  } catch {
    setAside(file)
    return Kept.parse({})
  }
}

function textOf(file: string): string | null {
  try {
    return readFileSync(file, "utf8")
  } catch {
    return null
  }
}

function setAside(file: string): void {
  try {
    renameSync(file, `${file}.damaged-${Date.now()}`)
  } catch {
    // It is written over by the next choice.
  }
}
