import { execFileSync } from "node:child_process"
import { readFileSync } from "node:fs"
import { join } from "node:path"
import { pathToFileURL } from "node:url"
import { beforeAll, expect, test } from "vitest"
import { connect, type Envelope } from "../../../shared/rpc.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"
import { hostedCore } from "./hosting.ts"

// The Electron runtime is not needed here: what it would run is bundled, parsed, and the core's bundle really run.

const root = join(import.meta.dirname, "../../..")
const built = (file: string): string => join(root, "dist", "electron", file)

beforeAll(() => {
  execFileSync(
    process.execPath,
    [join(root, "node_modules/rolldown/bin/cli.mjs"), "-c", "rolldown.config.ts", "--logLevel=warn"],
    { cwd: root, stdio: "inherit" },
  )
})

test.each(["main.js", "preload.cjs", "core.js", "fit.js"])("%s is a program", (file) => {
  expect(() => execFileSync(process.execPath, ["--check", built(file)])).not.toThrow()
})

test("the sandboxed preload script needs nothing but Electron", () => {
  const needs = [...readFileSync(built("preload.cjs"), "utf8").matchAll(/\brequire\(([^)]*)\)/g)]
  expect(needs.map(([, name]) => name)).toEqual([`"electron"`])
  expect(readFileSync(built("preload.cjs"), "utf8")).not.toMatch(/\bimport\b[^.]|\bnode:/)
})

test("the core's bundle answers over a port: SQL, stations and the second thread are where it looks for them", async () => {
  const core = hostedCore(temporaryFolder(), pathToFileURL(built("core.js")))
  const listeners = new Set<(message: Envelope) => void>()
  const line = core.connect((message) => {
    for (const listener of listeners) listener(message)
  })
  const client = connect({
    send: (message) => line.send(message),
    hear: (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  })
  await client.call("desk.new", { name: "a.stintbook" })
  const rows = Array.from({ length: 20 }, (_, i) => {
    const day = `2024-05-${String(i + 1).padStart(2, "0")}`
    return `T${i},${day},06:00,08:00,${i % 2 ? "spoon" : "jig"},${i % 3}`
  })
  const table = ["trip,date,start,end,lure class,landed", ...rows].join("\n")
  const files = [{ name: "stints.csv", bytes: new TextEncoder().encode(table) }]
  await client.call("import.commit", { files, settings: {} })
  const answer = await client.call("questions.ask", { outcome: "landed_rate", by: "lure_class" })
  expect("levels" in answer && answer.levels.map(({ level }) => level)).toEqual(["jig", "spoon"])
  const near = await client.call("stations.near", { lat: 31.13, lon: -81.4 })
  expect(near.tide.length).toBeGreaterThan(0)
})
