import { readdirSync, readFileSync } from "node:fs"
import { join } from "node:path"

const mostNotes = 200
const logTail = 64 * 1024

/** The core's notes, given to the host's log and kept until the end; `text` is that log's end with what it does not hold. */
export function deskLog(config: string, persist: (line: string) => void) {
  const notes: string[] = []
  return {
    note: (line: string): void => {
      notes.push(`${new Date().toISOString()} ${line}`)
      if (notes.length > mostNotes) notes.shift()
      persist(line)
    },
    text: (): string => {
      const kept = logFiles(config)
        .map((file) => readFileSync(file, "utf8").slice(-logTail))
        .join("")
      return kept + notes.filter((note) => !kept.includes(note.slice(note.indexOf(" ") + 1))).join("\n")
    },
  }
}

/** The host's log files, oldest first: stintbook.2.log, stintbook.1.log, stintbook.log. */
function logFiles(config: string): string[] {
  try {
    return readdirSync(config)
      .filter((name) => /^stintbook(\.\d)?\.log$/.test(name))
      .toSorted((a, b) => b.length - a.length || b.localeCompare(a))
      .map((name) => join(config, name))
  } catch {
    return []
  }
}
