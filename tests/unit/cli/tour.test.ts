import { execFileSync } from "node:child_process"
import { join } from "node:path"
import { expect, test } from "vitest"

const program = (path: string, ...args: string[]): string =>
  execFileSync(process.execPath, [join(import.meta.dirname, "../../..", path), ...args], { encoding: "utf8" })

test("the first start shows the sample's first answers with their intervals, and says what comes next", () => {
  const out = program("electron/tour.ts")
  expect(out).toMatch(/a sample logbook, all invented but the tide stations and the sky/)
  expect(out).toMatch(/Strikes per rod-hour by lure class/)
  expect(out).toMatch(
    /soft plastic on a jig\s+head +[\d.]+ +[\d.]+ to [\d.]+|soft plastic on a\s+[\d.]+ +[\d.]+ to [\d.]+/,
  )
  expect(out).toMatch(/Hook-ups per strike by lure class|hook-up/i)
  expect(out).toMatch(/low stand +[\d.]+ +[\d.]+ to [\d.]+/)
  const next = out.split("What next")[1] ?? ""
  expect(next).toContain("--dry-run")
  const [, file = ""] = /stintbook -- ask (\S+) --outcome strike_rate --by light/.exec(next) ?? []
  expect(program("core/cli/main.ts", "ask", file, "--outcome", "strike_rate", "--by", "light")).toMatch(
    /first light/,
  )
  const [, conditions = ""] = /stintbook -- (conditions [^\n]+)/.exec(next) ?? []
  expect(program("core/cli/main.ts", ...conditions.split(" "))).toContain("not for navigation")
})
