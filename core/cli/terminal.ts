import { readFileSync } from "node:fs"

/** Where a command reads and writes, how wide the paper is, and who is told how far a long one has come. */
export type Terminal = {
  readonly out: (text: string) => void
  readonly err: (text: string) => void
  readonly input: () => string
  readonly progress: (done: number, of: number) => void
  readonly width: number
}

const usualWidth = 100
const shownEvery = 250
let shownAt = 0

/** The terminal that started this program. A reader that closes the pipe early ends it quietly. */
export function processTerminal(): Terminal {
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") process.exit()
    throw error
  })
  return {
    out: (text) => void process.stdout.write(`${text}\n`),
    err: (text) => void process.stderr.write(`${text}\n`),
    input: () => readFileSync(process.stdin.fd, "utf8"),
    progress: showProgress,
    width: process.stdout.columns || usualWidth,
  }
}

/** One line that is written over until the work is done, then wiped; nothing where no person is watching. */
function showProgress(done: number, of: number): void {
  if (!process.stderr.isTTY || (performance.now() - shownAt < shownEvery && done < of)) return
  shownAt = performance.now()
  process.stderr.write(done < of ? `\r${done} of ${of} rows` : "\r\u001b[K")
}
