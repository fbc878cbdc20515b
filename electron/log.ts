import { appendFileSync, mkdirSync, renameSync, rmSync, statSync } from "node:fs"
import { join } from "node:path"

const mostBytes = 1024 * 1024
const mostFiles = 3

/** Degrees with decimals, or degrees and minutes, with or without signs and letters. */
const degrees = String.raw`[-+]?\d{1,3}(?:\.\d{2,}|\s*°\s*\d{1,2}(?:\.\d+)?(?:\s*['′]\s*(?:\d{1,2}(?:\.\d+)?\s*["″])?)?)(?:\s*°)?(?:\s*[NSEW]\b)?`
const pair = new RegExp(String.raw`(?<![\d.])${degrees}(?:\s*[,;/|]\s*|\s+)${degrees}(?!\.?\d)`, "g")
const keyed = /\b(lat|lon|lng|latitude|longitude)(["']?\s*[:=]?\s*["']?)[-+]?\d[\d.]*/gi

/**
 * A text without places: numbers under keys such as `lat` and `lon`, and pairs of numbers that could be degrees, are
 * blotted out. It rather takes too much than too little.
 */
export function withoutPlaces(text: string): string {
  return text.replace(keyed, "$1$2[place]").replace(pair, "[place]")
}

/** A log on this computer only: what started, ended and went wrong, never where anybody fished. */
export type Log = {
  readonly file: string
  write(what: string): void
}

/**
 * A log in a folder, made when first written: `stintbook.log`, and when that reaches 1 MB `stintbook.1.log` and so on,
 * three files in all. A disk that takes no more is no reason to stop: the line is dropped.
 */
export function openLog(folder: string, now: () => Date = () => new Date()): Log {
  const file = join(folder, "stintbook.log")
  const older = (age: number): string => (age === 0 ? file : join(folder, `stintbook.${age}.log`))
  const rotate = (): void => {
    rmSync(older(mostFiles - 1), { force: true })
    for (let age = mostFiles - 2; age >= 0; age--)
      if (sizeOf(older(age)) !== null) renameSync(older(age), older(age + 1))
  }
  return {
    file,
    write: (what) => {
      const line = `${now().toISOString()} ${withoutPlaces(what)}\n`
      try {
        mkdirSync(folder, { recursive: true })
        if ((sizeOf(file) ?? 0) + Buffer.byteLength(line) > mostBytes) rotate()
        appendFileSync(file, line, { mode: 0o600 })
      } catch {
        // nowhere to say so
      }
    },
  }
}

function sizeOf(file: string): number | null {
  return statSync(file, { throwIfNoEntry: false })?.size ?? null
}
