import { execFileSync } from "node:child_process"
import { join } from "node:path"
import { expect, test } from "vitest"

test("the first start answers from real interviews, with an interval, and says what comes next", () => {
  const out = execFileSync(process.execPath, [join(import.meta.dirname, "../../../electron/tour.ts")], {
    encoding: "utf8",
  })
  expect(out).toMatch(/Per rod-hour, Lures landed [\d.]+ times Both \([\d.]+ to [\d.]+\)/)
  expect(out).toMatch(/Lures +0\.352 +0\.238 to 0\.502/)
  const next = out.split("What next")[1] ?? ""
  expect(next).toContain("--dry-run")
  const suggested =
    /stintbook -- ask (\S+) --outcome landed_rate --by month --species kokanee/.exec(next)?.[1] ?? ""
  const answer = execFileSync(
    process.execPath,
    [
      join(import.meta.dirname, "../../../core/cli/main.ts"),
      "ask",
      suggested,
      "--outcome",
      "landed_rate",
      "--by",
      "month",
      "--species",
      "kokanee",
    ],
    { encoding: "utf8" },
  )
  expect(answer).toContain("June")
})
