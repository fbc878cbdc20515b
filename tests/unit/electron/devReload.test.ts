import { mkdirSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { expect, onTestFinished, test, vi } from "vitest"
import { devReload } from "../../../electron/devReload.ts"
import type { Envelope } from "../../../shared/rpc.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"
import { hostedCore } from "./hosting.ts"

/** A source tree of the test's own, watched. */
function watched() {
  const root = temporaryFolder()
  const pages = join(root, "pages")
  for (const folder of [pages, ...["core", "shared", "migrations"].map((name) => join(root, name))])
    mkdirSync(folder)
  writeFileSync(join(pages, "index.html"), "<html><head><title>Page</title></head></html>")
  const core = hostedCore(temporaryFolder())
  const { extraFile, stop } = devReload(root, pages, core)
  onTestFinished(stop)
  const text = async (path: string): Promise<string> =>
    Buffer.from((await extraFile(path))?.bytes ?? []).toString("utf8")
  return { root, pages, core, text, extraFile }
}

test("the page gets a script of our own file that loads it again when it was built again", async () => {
  const { pages, text, extraFile } = watched()
  expect(await text("/")).toContain(`<script src="/dev-reload.js"></script></head>`)
  expect(await text("/dev-reload.js")).toContain("location.reload()")
  expect(await extraFile("/assets/app.js")).toBeNull()
  const before = await text("/dev-version")
  writeFileSync(join(pages, "app.js"), "1")
  await vi.waitFor(async () => expect(await text("/dev-version")).not.toBe(before), { timeout: 10_000 })
})

test("an edit of the core starts it again, then loads the page again", async () => {
  const { root, core, text } = watched()
  const heard: Envelope[] = []
  core.connect((message) => heard.push(message))
  const before = await text("/dev-version")
  writeFileSync(join(root, "core", "edited.ts"), "1")
  await vi.waitFor(async () => expect(await text("/dev-version")).not.toBe(before), { timeout: 10_000 })
  const why = heard.flatMap((message) => (message.t === "problem" ? message.problem.message : []))
  expect(why).toEqual([expect.stringMatching(/edited/)])
})
