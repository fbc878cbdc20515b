import { execFileSync } from "node:child_process"
import { createHash } from "node:crypto"
import { readFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test } from "vitest"
import { ImportSettings } from "../../../shared/imports.ts"
import { previewImport } from "../../../core/service/imports.ts"
import { temporaryFolder, temporaryLogbook } from "../store/temporaryLogbook.ts"
import { context, sourceOf } from "./importing.ts"

test("a hundred thousand rows are read to the last one, while the program stays awake", async () => {
  const file = join(temporaryFolder(), "large.csv")
  const maker = join(import.meta.dirname, "../../data/messy/make-large.mjs")
  execFileSync(process.execPath, [maker, file])
  const bytes = readFileSync(file)
  // Size, SHA-256 and totals: tests/data/messy/README.md, written down without the product.
  expect(createHash("sha256").update(bytes).digest("hex")).toBe(
    "31d33fce6c6cf8bde3973e967770a88a38e7800528224db10088715c38a9140c",
  )
  let ticks = 0
  const ticking = setInterval(() => (ticks += 1), 20)
  const report = await previewImport(
    temporaryLogbook(),
    [sourceOf("large.csv", bytes)],
    ImportSettings.parse({}),
    context,
  )
  clearInterval(ticking)
  expect(ticks).toBeGreaterThan(10)
  expect(report.refused).toEqual([])
  expect(report.creates.stints).toBe(100_000)
  expect(report.rod_hours).toBeCloseTo(1_031_077, 4) // summed in another order
  expect([report.landed, report.blank_trips]).toEqual([240_001, 46_580])
})
