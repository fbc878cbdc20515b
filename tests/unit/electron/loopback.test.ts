import { readFileSync, symlinkSync } from "node:fs"
import { connect as connectTcp } from "node:net"
import { networkInterfaces } from "node:os"
import { join } from "node:path"
import { beforeAll, expect, test, vi } from "vitest"
import { AgainAnswer } from "../../../electron/again.ts"
import { pageHeaders } from "../../../electron/policy.ts"
import { mostFrameBytes } from "../../../shared/wire.ts"
import { ask, cookieOf, knock, openWindow, pathOf, sharedHost, startHost } from "./hosting.ts"

const shared = sharedHost()
beforeAll(() => {
  const { folder } = shared()
  symlinkSync(join(folder, "outside.js"), join(folder, "pages", "linked.js"))
  symlinkSync(folder, join(folder, "pages", "linked"))
})
const own = (port: number): string => `http://127.0.0.1:${port}`

test("a link lets one window in, once", async () => {
  const host = shared()
  const path = pathOf(host.newLink())
  const first = await ask(host, { path })
  expect(first.status).toBe(303)
  expect(first.headers.location).toBe("/")
  expect(first.headers["set-cookie"]?.[0]).toMatch(
    /^stintbook_\d+=[\w-]{43}; Path=\/; HttpOnly; SameSite=Strict$/,
  )
  const again = await ask(host, { path })
  expect(again.status).toBe(403)
  expect(again.text).toMatch(/a link that works once/)
  expect(again.headers["set-cookie"]).toBeUndefined()
})

test("a page comes whole, with the policy, and is kept nowhere", async () => {
  const host = shared()
  const headers = { Cookie: await cookieOf(host) }
  const page = await ask(host, { headers })
  expect(page.status).toBe(200)
  expect(page.text).toBe("<!doctype html><title>Page</title>")
  expect(page.headers["content-type"]).toBe("text/html; charset=utf-8")
  for (const [name, value] of Object.entries(pageHeaders))
    expect(page.headers[name.toLowerCase()]).toBe(value)
  const asset = await ask(host, { headers, path: "/assets/app.js?v=1" })
  expect([asset.status, asset.headers["content-type"]]).toEqual([200, "text/javascript; charset=utf-8"])
  expect((await ask(host, { headers, method: "HEAD" })).text).toBe("")
})

test("who has no session gets nothing", async () => {
  const host = shared()
  const other = await startHost()
  const foreign = await cookieOf(other)
  const mine = await cookieOf(host)
  for (const cookie of ["", "stintbook=1", foreign, `${mine}x`, mine.slice(0, -1), mine.replace("=", "==")]) {
    expect((await ask(host, { headers: { Cookie: cookie } })).status, cookie).toBe(403)
    expect((await knock(host, { Cookie: cookie, Origin: own(host.port) })).status, cookie).toBe(403)
  }
  expect((await ask(host, { path: "/enter/" })).status).toBe(403)
  expect((await ask(host, { path: "/enter/AAAA" })).status).toBe(403)
  expect((await ask(host, { path: pathOf(host.newLink()), method: "HEAD" })).status).toBe(405)
})

test.each([
  "localhost",
  "127.0.0.1.rebind.example",
  "rebind.example",
  "127.1",
  "[::1]",
  "0.0.0.0",
  "127.0.0.1@evil",
])("a name that leads to us is not ours: %s", async (name) => {
  const host = shared()
  const headers = { Cookie: await cookieOf(host), Host: `${name}:${host.port}` }
  expect((await ask(host, { headers })).status).toBe(421)
  expect((await ask(host, { headers, path: pathOf(host.newLink()) })).status).toBe(421)
  expect((await knock(host, { ...headers, Origin: own(host.port) })).status).toBe(421)
  const { port, ...rest } = { port: host.port, ...headers, Host: "127.0.0.1" }
  expect((await ask(host, { headers: rest })).status, `without the port ${port}`).toBe(421)
})

test.each([
  "null",
  "http://evil.example",
  "http://localhost",
  "https://127.0.0.1",
  "http://127.0.0.1",
  "file://",
])("another origin is refused: %s", async (origin) => {
  const host = shared()
  const cookie = await cookieOf(host)
  for (const from of [origin, `${origin}:${host.port}`].filter((name) => name !== own(host.port))) {
    expect((await ask(host, { headers: { Cookie: cookie, Origin: from } })).status, from).toBe(403)
    expect((await knock(host, { Cookie: cookie, Origin: from })).status, from).toBe(403)
  }
})

test.each(["same-site", "cross-site"])("a page of another port or site gets nothing: %s", async (site) => {
  const host = shared()
  const headers = { Cookie: await cookieOf(host), "Sec-Fetch-Site": site }
  const link = pathOf(host.newLink())
  expect((await ask(host, { headers })).status).toBe(403)
  expect((await ask(host, { headers, path: link })).status).toBe(403)
  expect((await ask(host, { path: link })).status, "the link is not used up").toBe(303)
})

test("a socket without an origin, as from no page, is refused; with its own it opens", async () => {
  const host = shared()
  const cookie = await cookieOf(host)
  expect((await knock(host, { Cookie: cookie })).status).toBe(403)
  expect((await knock(host, { Cookie: cookie, Origin: own(host.port) }, "/other")).status).toBe(404)
  expect((await knock(host, { Cookie: cookie, Origin: own(host.port) })).status).toBe(101)
})

test.each([
  "/../outside.js",
  "/assets/../../outside.js",
  "/%2e%2e/outside.js",
  "/..%2foutside.js",
  "/..%5coutside.js",
  "/assets/..\\..\\outside.js",
  "/%00/outside.js",
  "/index.html%00.js",
  "//etc/passwd",
  "/.hidden.js",
  "/assets/",
  "/assets",
  "/linked.js",
  "/linked/outside.js",
  "/%",
  "/%c0%ae%c0%ae/outside.js",
  "/nothing.js",
  "/C:/outside.js",
  "http://127.0.0.1/outside.js",
])("no path leads out of the page's folder: %s", async (path) => {
  const host = shared()
  const answer = await ask(host, { path, headers: { Cookie: await cookieOf(host) } })
  expect(answer.status).toBe(404)
  expect(answer.text).not.toContain("secret")
})

test.each(["POST", "PUT", "DELETE", "OPTIONS", "PATCH", "TRACE"])(
  "pages can only be read: %s",
  async (method) => {
    const host = shared()
    const headers = { Cookie: await cookieOf(host) }
    const answer = await ask(host, { method, headers })
    expect(answer.status).toBe(405)
    expect(answer.headers["access-control-allow-origin"]).toBeUndefined()
  },
)

test("it listens on this computer's own address only", async () => {
  const host = shared()
  const others = Object.values(networkInterfaces())
    .flatMap((addresses) => addresses ?? [])
    .filter(({ address, internal }) => !internal || address === "::1")
  for (const { address } of others) {
    const reached = await new Promise<boolean>((resolve) => {
      const socket = connectTcp({ host: address, port: host.port, timeout: 2000 })
      socket.on("connect", () => resolve(true))
      for (const end of ["error", "timeout"]) socket.on(end, () => resolve(false))
    })
    expect(reached, address).toBe(false)
  }
})

test("two windows have their own answers though their calls have the same ids, and both hear of changes", async () => {
  const host = await startHost()
  const [a, b] = [await openWindow(host), await openWindow(host)]
  await a.client.call("desk.new", { name: "a.stintbook" })
  await vi.waitFor(() => {
    for (const { heard } of [a, b]) expect(heard.some(({ t }) => t === "changed")).toBe(true)
  })
  const before = b.heard.length
  const state = await a.client.call("desk.state", {})
  expect(state.open?.name).toBe("a.stintbook")
  expect(b.heard.slice(before).filter(({ t }) => t !== "changed")).toEqual([])
  const [first, second] = await Promise.all([
    a.client.call("desk.state", {}),
    b.client.call("logbook.info", {}),
  ])
  expect([first.open?.name, second.stints]).toEqual(["a.stintbook", 0])
})

test.each([
  ["no JSON", "{"],
  ["no envelope", `{"t":"eval"}`],
  ["too deep", `{"t":"call","id":1,"method":"desk.state","input":${"[".repeat(9999)}${"]".repeat(9999)}}`],
  ["bytes that are none", `{"t":"call","id":1,"method":"desk.state","input":{"$bytes":"%"}}`],
])("a frame with %s closes its own window and no other", async (_, frame) => {
  const host = await startHost()
  const [bad, good] = [await openWindow(host), await openWindow(host)]
  bad.socket.send(frame)
  expect((await bad.closed).code).toBe(1007)
  expect((await good.client.call("desk.state", {})).open).toBeNull()
})

test("bytes as a frame, and a frame beyond the limit, close their own window and no other", async () => {
  const host = await startHost()
  const [binary, large, good] = [await openWindow(host), await openWindow(host), await openWindow(host)]
  binary.socket.send(new Uint8Array([123]))
  expect((await binary.closed).code).toBe(1003)
  large.socket.send("x".repeat(mostFrameBytes + 1))
  expect((await large.closed).code).toBe(1009)
  expect((await good.client.call("desk.state", {})).open).toBeNull()
})

test("calls of no known method, or with input of no known shape, are refused by a sentence", async () => {
  const host = await startHost()
  const { socket, heard } = await openWindow(host)
  for (const method of ["constructor", "__proto__", "toString", "desk.open"])
    socket.send(JSON.stringify({ t: "call", id: 7, method, input: { name: "../../../etc/passwd" } }))
  await vi.waitFor(() => expect(heard.filter(({ t }) => t === "problem")).toHaveLength(4), {
    timeout: 20_000,
  })
})

test("a later start of the same user hands its file over and gets a link; nobody else does", async () => {
  const host = await startHost()
  const body = JSON.stringify({ file: "/home/someone/a.stintbook" })
  const headers = { authorization: `Bearer ${host.secret}` }
  for (const [refused, status] of [
    [{ method: "POST", body }, 403],
    [{ method: "POST", body, headers: { authorization: "Bearer x" } }, 403],
    [{ method: "GET", headers }, 403],
    [{ method: "POST", body, headers: { ...headers, Origin: "http://evil.example" } }, 403],
    [{ method: "POST", body, headers: { ...headers, Host: `localhost:${host.port}` } }, 421],
    [{ method: "POST", body: "{", headers }, 400],
    [{ method: "POST", body: `{"file":7}`, headers }, 400],
    [{ method: "POST", body: `{"file":"${"x".repeat(20_000)}"}`, headers }, 400],
  ] as const)
    expect((await ask(host, { path: "/again", ...refused })).status).toBe(status)
  expect(host.handed).toEqual([])
  const answer = await ask(host, { path: "/again", method: "POST", body, headers })
  expect(answer.status).toBe(200)
  expect(host.handed).toEqual(["/home/someone/a.stintbook"])
  expect(AgainAnswer.parse(JSON.parse(answer.text)).link).toMatch(
    /^http:\/\/127\.0\.0\.1:\d+\/enter\/[\w-]{43}$/,
  )
})

test("it ends after its last window closed, but a reload keeps it", async () => {
  const host = await startHost({ lingerMs: 400 })
  let ended = false
  void host.lastClosed.then(() => (ended = true))
  const first = await openWindow(host)
  first.socket.close()
  await first.closed
  const second = await openWindow(host)
  await new Promise((resolve) => setTimeout(resolve, 600))
  expect(ended).toBe(false)
  second.socket.close()
  await host.lastClosed
  expect(ended).toBe(true)
})

test("it waits for the window of a later start that came just as the last one closed", async () => {
  const host = await startHost({ lingerMs: 200 })
  let ended = false
  void host.lastClosed.then(() => (ended = true))
  const first = await openWindow(host)
  first.socket.close()
  await first.closed
  const headers = { authorization: `Bearer ${host.secret}` }
  await ask(host, { path: "/again", method: "POST", headers, body: `{"file":null}` })
  await new Promise((resolve) => setTimeout(resolve, 500))
  expect(ended).toBe(false)
})

test("the end of the host is told to its windows", async () => {
  const host = await startHost()
  const window = await openWindow(host)
  await host.close()
  expect((await window.closed).code).toBe(1001)
})

test("what was refused is in the log, without tokens", async () => {
  const host = await startHost()
  const cookie = await cookieOf(host)
  await knock(host, { Cookie: cookie, Origin: "http://evil.example" })
  const log = readFileSync(host.logFile, "utf8")
  expect(log).toContain("a socket was refused with 403")
  expect(log).not.toContain(cookie.split("=")[1])
})
