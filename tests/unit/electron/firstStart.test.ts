import { spawnSync } from "node:child_process"
import { existsSync, readFileSync, statSync, writeFileSync } from "node:fs"
import { createServer } from "node:net"
import { join } from "node:path"
import { expect, onTestFinished, test } from "vitest"
import { askFirst, claim } from "../../../electron/firstStart.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"
import { ask, pathOf, startHost } from "./hosting.ts"

const lockIn = (config: string): string => join(config, "host.json")
const nobody = { file: null }

test("a second start finds the first, hands its file over, and gets a link that works", async () => {
  const config = temporaryFolder()
  const host = await startHost()
  const release = claim(config, host)
  const link = await askFirst(config, { file: "/somewhere/a.stintbook" })
  expect(host.handed).toEqual(["/somewhere/a.stintbook"])
  expect((await ask(host, { path: pathOf(link ?? "http://none/") })).status).toBe(303)
  expect(claim(config, host)).toBeNull()
  release?.()
  expect(existsSync(lockIn(config))).toBe(false)
})

test("the secret is for its user alone, and holds nothing else", async () => {
  const config = temporaryFolder()
  claim(config, { port: 4000, secret: "s" })
  expect(JSON.parse(readFileSync(lockIn(config), "utf8"))).toEqual({
    pid: process.pid,
    port: 4000,
    secret: "s",
  })
  expect(process.platform === "win32" ? 0 : statSync(lockIn(config)).mode & 0o077).toBe(0)
})

test("a host that was killed, or a lock that makes no sense, stands in nobody's way", async () => {
  const config = temporaryFolder()
  const { pid } = spawnSync(process.execPath, ["--version"])
  for (const lock of [JSON.stringify({ pid, port: 4000, secret: "s" }), "", "{", "[]"]) {
    writeFileSync(lockIn(config), lock)
    expect(await askFirst(config, nobody), lock).toBeNull()
    const release = claim(config, { port: 4000, secret: "s" })
    expect(release, lock).not.toBeNull()
    release?.()
  }
})

test("another program at the same port is not taken for ours, and one that says nothing is not waited for", async () => {
  const silent = createServer(() => undefined)
  await new Promise<void>((resolve) => silent.listen(0, "127.0.0.1", resolve))
  onTestFinished(() => void silent.close())
  const address = silent.address()
  const config = temporaryFolder()
  const port = typeof address === "object" && address !== null ? address.port : 0
  claim(config, { port, secret: "s" })
  const before = performance.now()
  expect(await askFirst(config, nobody)).toBeNull()
  expect(performance.now() - before).toBeLessThan(6000) // it waits for 3 s
  const other = await startHost()
  claim(config, { port: other.port, secret: "a secret of another host" })
  expect(await askFirst(config, nobody)).toBeNull()
  expect(other.handed).toEqual([])
})

test("who steps down takes no other host's lock away", () => {
  const config = temporaryFolder()
  const release = claim(config, { port: 4000, secret: "mine" })
  writeFileSync(lockIn(config), JSON.stringify({ pid: process.pid, port: 4001, secret: "another's" }))
  release?.()
  expect(existsSync(lockIn(config))).toBe(true)
})
