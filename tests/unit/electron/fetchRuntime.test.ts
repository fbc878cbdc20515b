import { mkdirSync, writeFileSync } from "node:fs"
import { createServer, type RequestListener, type Server } from "node:http"
import { join } from "node:path"
import { expect, onTestFinished, test } from "vitest"
import { electronRuntime, fetchRuntime } from "../../../electron/fetchRuntime.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"

const electron = join(import.meta.dirname, "../../../node_modules/electron")
const patience = { firstMs: 500, nextMs: 500 }

async function listening(server: Server): Promise<number> {
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve))
  const address = server.address()
  return typeof address === "object" && address !== null ? address.port : 0
}

/** Asks a server of the test's own for the runtime; why it was not had, and after how many ms. */
async function fetched(answer: RequestListener): Promise<{ why: string | null; ms: number }> {
  const server = createServer(answer)
  const port = await listening(server)
  onTestFinished(() => {
    server.closeAllConnections()
    server.close()
  })
  const begun = performance.now()
  const why = await fetchRuntime(electron, patience, {
    mirror: `http://127.0.0.1:${port}/`,
    cacheRoot: temporaryFolder(),
  })
  return { why, ms: performance.now() - begun }
}

test("a server that says nothing is not waited for", async () => {
  const { why, ms } = await fetched(() => undefined)
  expect(why).toBe("no answer in time")
  expect(ms).toBeLessThan(2500) // half a second by our patience, the rest for a busy machine
})

test("nor one that stops half way", async () => {
  const { why } = await fetched((_, response) => {
    response.writeHead(200, { "Content-Length": "1000000" })
    response.write("half")
  })
  expect(why).toBe("no answer in time")
})

test("one that has it not is told by its answer", async () => {
  const { why } = await fetched((_, response) => response.writeHead(404).end())
  expect(why).toMatch(/404/)
})

test("what is not the runtime is refused by its checksum", async () => {
  const { why } = await fetched((_, response) => response.end("not the runtime"))
  expect(why).toMatch(/checksum/i)
})

test("where there is no network the reason is the system's", async () => {
  const server = createServer()
  const port = await listening(server)
  server.close()
  const why = await fetchRuntime(electron, patience, {
    mirror: `http://127.0.0.1:${port}/`,
    cacheRoot: temporaryFolder(),
  })
  expect(why).toBe("ECONNREFUSED")
})

test("one that is unpacked already is taken as it is", async () => {
  const folder = temporaryFolder()
  mkdirSync(join(folder, "dist"))
  writeFileSync(join(folder, "path.txt"), "electron")
  writeFileSync(join(folder, "dist", "electron"), "")
  expect(await electronRuntime(folder)).toEqual({ path: join(folder, "dist", "electron") })
})
