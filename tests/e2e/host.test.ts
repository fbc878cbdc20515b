import { spawn } from "node:child_process"
import { existsSync, readFileSync, writeFileSync } from "node:fs"
import { createServer } from "node:http"
import { join } from "node:path"
import { expect, onTestFinished, test, vi } from "vitest"
import { newBook } from "../../core/service/open.ts"
import { contentSecurityPolicy } from "../../electron/policy.ts"
import { enter } from "../unit/electron/hosting.ts"
import { temporaryFolder } from "../unit/store/temporaryLogbook.ts"
import { noBrowser } from "./browser.ts"
import { startProduct } from "./product.ts"
import { openWindow } from "./window.ts"

const row = (n: number) => ({
  name: "stints.csv",
  bytes: new TextEncoder().encode(
    `trip,date,start,end,landed\nT${n},2024-05-${String(n + 1).padStart(2, "0")},06:00,08:00,1\n`,
  ),
})

test("a host that is killed loses nothing it acknowledged, and the next start takes over", async () => {
  const first = await startProduct()
  const { client, closed } = await enter(first.link)
  await client.call("desk.new", { name: "a.stintbook" })
  let acknowledged = 0
  const writing = (async () => {
    for (let n = 0; n < 28; n++) {
      await client.call("import.commit", { files: [row(n)], settings: {} })
      acknowledged++
    }
  })()
  await vi.waitFor(() => expect(acknowledged).toBeGreaterThan(2), { timeout: 20_000, interval: 5 })
  first.host.kill("SIGKILL")
  await closed
  void writing.catch(() => undefined)
  expect(existsSync(join(first.config, "host.json"))).toBe(true)
  const kept = acknowledged
  const second = await startProduct({ folder: first.folder, config: first.config })
  const window = await enter(second.link)
  const state = await window.client.call("desk.open", { name: "a.stintbook" })
  expect(state.open?.read_only).toBeNull()
  const { stints } = await window.client.call("logbook.info", {})
  expect(stints).toBeGreaterThanOrEqual(kept)
  expect(stints).toBeLessThanOrEqual(kept + 1) // the one that was under way may have got through
  expect((await window.client.call("logbook.check", {})).findings).toEqual([])
})

test("a file named at the start is opened, wherever it is; one named at a later start too", async () => {
  const [one, two] = ["one", "two"].map((name) => join(temporaryFolder(), `${name}.stintbook`))
  for (const file of [one, two]) newBook(file ?? "").close()
  const first = await startProduct({ args: [one ?? ""] })
  const window = await enter(first.link)
  expect((await window.client.call("desk.state", {})).open?.name).toBe("one.stintbook")
  const second = await startProduct({ args: [two ?? ""], folder: first.folder, config: first.config })
  expect(await second.ended).toBe(0)
  expect(second.said()).toMatch(/open already/)
  expect(new URL(second.link).port).toBe(new URL(first.link).port)
  const other = await enter(second.link)
  await vi.waitFor(
    async () => {
      expect((await other.client.call("desk.state", {})).open?.name).toBe("two.stintbook")
    },
    { timeout: 20_000 },
  )
})

test("it ends with its terminal, tells its windows, and leaves no lock", async () => {
  const product = await startProduct()
  const { closed } = await enter(product.link)
  product.host.kill("SIGTERM")
  expect((await closed).code).toBe(1001)
  expect(await product.ended).toBe(0)
  expect(existsSync(join(product.config, "host.json"))).toBe(false)
  expect(readFileSync(join(product.config, "stintbook.log"), "utf8")).toMatch(/host started[^]*host ended\n$/)
})

test("a file that is not there is said in the window, and the product is open all the same", async () => {
  const { client } = await enter((await startProduct({ args: ["/nowhere/a.stintbook"] })).link)
  const state = await client.call("desk.state", {})
  expect(state.open).toBeNull()
  expect(state.problem).toMatch(/a\.stintbook/)
})

test("a wrong argument is answered by a sentence and how to start", async () => {
  const child = spawn(process.execPath, [join(import.meta.dirname, "../../electron/start.ts"), "--nonsense"])
  let said = ""
  child.stderr.setEncoding("utf8").on("data", (text: string) => (said += text))
  expect(await new Promise((resolve) => child.on("close", resolve))).toBe(2)
  expect(said).toMatch(/--nonsense[^]*npm start -- \[FILE\]/)
})

test("it opens the browser it finds, as an app with a profile of its own, and closes it at the end", async () => {
  const tools = temporaryFolder()
  // stands for a browser: writes down how it was called, and waits to be ended
  writeFileSync(
    join(tools, "chromium"),
    `#!/bin/sh\nprintf '%s\\n' "$@" > ${tools}/called\nexec sleep 60\n`,
    { mode: 0o755 },
  )
  const env = { ...process.env, DISPLAY: ":0", PATH: `${tools}:${process.env["PATH"]}` }
  const product = await startProduct({ show: "--browser", env })
  const called = await vi.waitFor(() => readFileSync(join(tools, "called"), "utf8").trim().split("\n"))
  expect(called).toContain(`--user-data-dir=${join(product.config, "browser")}`)
  const link = called.find((word) => word.startsWith("--app="))?.slice("--app=".length) ?? ""
  expect(link).not.toBe(product.link) // each works once: the printed one is for when no window appears
  await enter(link)
  await enter(product.link)
  product.host.kill("SIGINT")
  expect(await product.ended).toBe(0)
})

test("without a screen it prints the address to open by hand", async () => {
  const { DISPLAY: _x, WAYLAND_DISPLAY: _wayland, ...env } = process.env
  const product = await startProduct({ show: "--browser", env })
  expect(product.said()).toMatch(/Open this address in a browser on this computer; it works once:\n {2}http/)
})

test.skipIf(noBrowser)(
  "a window opens in a browser, lives through a reload, and ends the host when it closes",
  async () => {
    const product = await startProduct()
    const { page, complaints } = await openWindow(product.link)
    const { origin } = new URL(product.link)
    const response = await page.request.get(`${origin}/`)
    expect(response.headers()["content-security-policy"]).toBe(contentSecurityPolicy)
    expect(new URL(page.url()).pathname).toBe("/")
    await page.getByRole("main").waitFor()
    await page.reload()
    await page.getByRole("main").waitFor()
    expect(await page.title()).toMatch(/Stintbook/)
    expect(complaints).toEqual([])
    await page.close()
    expect(await product.ended).toBe(0)
  },
)

test.skipIf(noBrowser)("the page can run nothing that is not its own, and reach nobody", async () => {
  const product = await startProduct()
  const other = await startProduct()
  const { page } = await openWindow(product.link)
  await page.getByRole("main").waitFor()
  const tried = await page.evaluate(async (elsewhere) => {
    const fails = async (act: () => unknown): Promise<boolean> => {
      try {
        await act()
        return false
      } catch {
        return true
      }
    }
    const opened = new globalThis.WebSocket(`${elsewhere.replace("http", "ws")}/socket`)
    const inline = document.createElement("div")
    return {
      handler: await fails(() => inline.setAttribute("onclick", "alert(1)")),
      markup: await fails(() => (inline.innerHTML = "<b>x</b>")),
      fetch: await fails(() => fetch(elsewhere)),
      outside: await fails(() => fetch("http://example.com/")),
      socket: await new Promise((resolve) => {
        opened.addEventListener("error", () => resolve(true))
        opened.addEventListener("open", () => resolve(false))
      }).catch(() => true),
      cookie: document.cookie === "",
      camera: await fails(() => navigator.mediaDevices.getUserMedia({ video: true })),
      position: await new Promise((resolve) =>
        navigator.geolocation.getCurrentPosition(
          () => resolve(false),
          () => resolve(true),
        ),
      ),
    }
  }, new URL(other.link).origin)
  expect(tried).toEqual({
    handler: true,
    markup: true,
    fetch: true,
    outside: true,
    socket: true,
    cookie: true,
    camera: true,
    position: true,
  })
})

test.skipIf(noBrowser)(
  "a page of another program on this computer gets nothing, though the cookie goes along",
  async () => {
    const product = await startProduct()
    const { origin, port } = new URL(product.link)
    const { page } = await openWindow(product.link)
    const context = page.context()
    await page.getByRole("main").waitFor()
    const other = createServer((_, response) => {
      response.setHeader("Content-Type", "text/html")
      response.end("<!doctype html><title>Another program</title>")
    })
    await new Promise<void>((resolve) => other.listen(0, "127.0.0.1", resolve))
    onTestFinished(() => void other.close())
    const address = other.address()
    const evil = await context.newPage()
    await evil.goto(`http://127.0.0.1:${typeof address === "object" ? address?.port : ""}/`)
    const got = await evil.evaluate(async (target) => {
      const loads = (tag: "script" | "img" | "iframe", path: string): Promise<boolean> =>
        new Promise((resolve) => {
          const element = document.createElement(tag)
          element.addEventListener("load", () => resolve(true))
          element.addEventListener("error", () => resolve(false))
          element.setAttribute("src", target + path)
          document.body.append(element)
        })
      const reaches = (mode: RequestMode): Promise<boolean> =>
        fetch(`${target}/`, { credentials: "include", mode }).then(
          () => true,
          () => false,
        )
      const socket = new globalThis.WebSocket(`${target.replace("http", "ws")}/socket`)
      const opens = new Promise<boolean>((resolve) => {
        socket.addEventListener("open", () => resolve(true))
        socket.addEventListener("error", () => resolve(false))
      })
      await loads("iframe", "/")
      return {
        plain: await reaches("no-cors"),
        shared: await reaches("cors"),
        picture: await loads("img", "/icon.svg"),
        socket: await opens,
      }
    }, origin)
    expect(got).toEqual({ plain: false, shared: false, picture: false, socket: false })
    const shown = await Promise.all(evil.frames().map((frame) => frame.title()))
    expect(shown).toHaveLength(2)
    expect(shown.join()).not.toContain("Stintbook")
    // and the same host by another name, as a rebound name would have it
    expect((await evil.goto(`http://localhost:${port}/`))?.status()).toBe(421)
  },
)
