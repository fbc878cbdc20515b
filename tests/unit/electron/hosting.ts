import { mkdirSync, writeFileSync } from "node:fs"
import { request as httpRequest, type IncomingHttpHeaders, type OutgoingHttpHeaders } from "node:http"
import { join } from "node:path"
import { pathToFileURL } from "node:url"
import { afterAll, beforeAll, onTestFinished } from "vitest"
import { WebSocket } from "ws"
import { startCore, type CoreThread } from "../../../electron/coreThread.ts"
import { openLog } from "../../../electron/log.ts"
import { startLoopback, type Loopback } from "../../../electron/loopback.ts"
import { connect, type Client, type Envelope } from "../../../shared/rpc.ts"
import { decode, encode } from "../../../shared/wire.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"

const coreProgram = new URL(process.env["SCRATCH_CORE"] ?? "../../../core/worker.ts", import.meta.url)

/** What is to be done when a test, or all tests of a file, are over. */
type Afterwards = (end: () => void | Promise<void>) => void

/** A core that keeps its logbooks in a folder of the test's own, ended after the test. */
export function hostedCore(
  folder: string,
  program: URL = coreProgram,
  afterwards: Afterwards = onTestFinished,
): CoreThread {
  const log = openLog(join(folder, "config"))
  const core = startCore(program, { folder, config: join(folder, "config"), open: null }, log)
  afterwards(() => core.close())
  return core
}

/**
 * A program that runs the real core and dies, as by a mistake of ours, at the first message `ask` that reaches it from the
 * host itself or, with `at once`, right after its start.
 */
export function mortalCore(folder: string, after: "when asked" | "at once"): URL {
  const file = join(folder, "mortal.mjs")
  const core = JSON.stringify(coreProgram.href)
  writeFileSync(
    file,
    after === "at once"
      ? `throw new Error("the thread fell over at 31.39, -81.288")`
      : `import { existsSync, rmSync } from "node:fs"
         const sign = new URL("./die", import.meta.url)
         setInterval(() => {
           if (!existsSync(sign)) return
           rmSync(sign)
           throw new Error("the thread fell over at 31.39, -81.288")
         }, 20)
         await import(${core})`,
  )
  return pathToFileURL(file)
}

export type Host = Loopback & {
  readonly folder: string
  readonly logFile: string
  readonly core: CoreThread
  /** Files handed over by later starts. */
  readonly handed: (string | null)[]
  /** Settles when the host finds that its last window closed. */
  readonly lastClosed: Promise<void>
}

/** A loopback host with a page of one file and the real core, ended after the test. */
export async function startHost(
  options: {
    readonly program?: URL
    readonly lingerMs?: number
    readonly folder?: string
    /** The built page instead. */
    readonly pages?: string
  } = {},
  afterwards: Afterwards = onTestFinished,
): Promise<Host> {
  const folder = options.folder ?? temporaryFolder(afterwards)
  const own = join(folder, "pages")
  const pages = options.pages ?? own
  mkdirSync(join(own, "assets"), { recursive: true })
  writeFileSync(join(own, "index.html"), "<!doctype html><title>Page</title>")
  writeFileSync(join(own, "assets", "app.js"), "export {}")
  writeFileSync(join(own, ".hidden.js"), "secret")
  writeFileSync(join(folder, "outside.js"), "secret")
  const log = openLog(join(folder, "config"))
  const core = hostedCore(folder, options.program, afterwards)
  const handed: (string | null)[] = []
  const closed = Promise.withResolvers<void>()
  const host = await startLoopback({
    pages,
    core,
    log,
    lingerMs: options.lingerMs ?? 50,
    lastWindowClosed: () => closed.resolve(),
    startedAgain: (file) => handed.push(file),
  })
  afterwards(() => host.close())
  return { ...host, folder, logFile: log.file, core, handed, lastClosed: closed.promise }
}

/** One host for all those tests of a file that leave nothing behind in it, ended after the last. */
export function sharedHost(): () => Host {
  const ends: (() => void | Promise<void>)[] = []
  let host: Host | null = null
  beforeAll(async () => {
    host = await startHost({}, (end) => ends.push(end))
  })
  afterAll(async () => {
    for (const end of ends.toReversed()) await end()
  })
  return () => {
    if (host === null) throw new Error("the shared host is there while tests run")
    return host
  }
}

type Listening = { readonly port: number }
type Asked = {
  readonly path?: string
  readonly method?: string
  readonly headers?: OutgoingHttpHeaders
  readonly body?: string
}
type Answered = { readonly status: number; readonly headers: IncomingHttpHeaders; readonly text: string }

/** One request, its path and headers sent exactly as written. */
export function ask(
  host: Listening,
  { path = "/", method = "GET", headers = {}, body }: Asked,
): Promise<Answered> {
  return new Promise((resolve, reject) => {
    const sent = httpRequest(
      { host: "127.0.0.1", port: host.port, path, method, headers: { Connection: "close", ...headers } },
      (response) => {
        let text = ""
        response.setEncoding("utf8")
        response.on("data", (part: string) => (text += part))
        response.on("end", () =>
          resolve({ status: response.statusCode ?? 0, headers: response.headers, text }),
        )
      },
    )
    sent.on("error", reject)
    sent.end(body)
  })
}

export const pathOf = (link: string): string => new URL(link).pathname

/** The cookie of a window that came in by a link of its own. */
export function cookieOf(host: Loopback): Promise<string> {
  return cookieBy(host.newLink())
}

async function cookieBy(link: string): Promise<string> {
  const { headers } = await ask(at(link), { path: pathOf(link) })
  return (headers["set-cookie"]?.[0] ?? "").split(";", 1)[0] ?? ""
}

const at = (link: string): Listening => ({ port: Number(new URL(link).port) })

/** What a socket met: opened, or refused with a status. */
export type Met = { readonly status: number; readonly socket: WebSocket }

/** Tries a socket with these headers; `status` is 101 where it opened. */
export function knock(
  host: Listening,
  headers: Readonly<Record<string, string>>,
  path = "/socket",
): Promise<Met> {
  const socket = new WebSocket(`ws://127.0.0.1:${host.port}${path}`, { headers, perMessageDeflate: false })
  onTestFinished(() => socket.terminate())
  return new Promise((resolve, reject) => {
    socket.on("open", () => resolve({ status: 101, socket }))
    socket.on("unexpected-response", (_, response) => {
      response.resume()
      resolve({ status: response.statusCode ?? 0, socket })
    })
    socket.on("error", reject)
  })
}

export type Window = {
  readonly client: Client
  readonly socket: WebSocket
  readonly heard: Envelope[]
  readonly closed: Promise<{ readonly code: number; readonly reason: string }>
}

/** A window on a host, let in by a link of its own. */
export function openWindow(host: Loopback): Promise<Window> {
  return enter(host.newLink())
}

/** A window as a page makes one: in by a link, then a socket with typed calls over it. */
export async function enter(link: string): Promise<Window> {
  const { socket } = await knock(at(link), {
    Cookie: await cookieBy(link),
    Origin: new URL(link).origin,
  })
  const heard: Envelope[] = []
  const listeners = new Set<(message: Envelope) => void>()
  socket.on("message", (data) => {
    const message = decode(Buffer.isBuffer(data) ? data.toString("utf8") : "")
    heard.push(message)
    for (const listener of listeners) listener(message)
  })
  const client = connect({
    send: (message) => socket.send(encode(message)),
    hear: (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  })
  const closed = new Promise<{ code: number; reason: string }>((resolve) => {
    socket.on("close", (code, reason) => resolve({ code, reason: reason.toString("utf8") }))
  })
  return { client, socket, heard, closed }
}
