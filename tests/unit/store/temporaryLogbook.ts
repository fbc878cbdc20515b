import { mkdtempSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { onTestFinished } from "vitest"
import { Logbook } from "../../../core/store/logbook.ts"
import { createLogbook } from "../../../core/store/open.ts"

/** A folder of its own for a test, removed afterwards. */
export function temporaryFolder(afterwards: (end: () => void) => void = onTestFinished): string {
  const folder = mkdtempSync(join(tmpdir(), "stintbook-"))
  afterwards(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

/** A new, empty logbook in a folder of its own, closed and removed after the test. */
export function temporaryLogbook(): Logbook {
  const book = new Logbook(createLogbook(join(temporaryFolder(), "test.stintbook")))
  onTestFinished(() => book.close())
  return book
}
