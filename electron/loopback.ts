import { createServer, type IncomingMessage, type ServerResponse } from "node:http"
import type { Duplex } from "node:stream"
import { setTimeout as delay } from "node:timers/promises"
import { WebSocketServer, type WebSocket } from "ws"
import { problemOf, type Envelope } from "../shared/rpc.ts"
import { decode, encode, mostFrameBytes } from "../shared/wire.ts"
import { makeAdmission, newSecret, sameSecret } from "./admission.ts"
import { AgainAsk, againPath, smallJson, type AgainAnswer } from "./again.ts"
import { traceOf, type CoreThread } from "./coreThread.ts"
import type { Log } from "./log.ts"
import { pageFile, type PageFile } from "./pages.ts"
import {
  foreign,
  misdirected,
  notAllowed,
  notThere,
  refuse,
  tooMany,
  uninvited,
  unreadable,
  type Refusal,
} from "./refusals.ts"
import { hostAllowed, loopbackOrigin, originAllowed, pageHeaders, siteAllowed } from "./policy.ts"

export type LoopbackOptions = {
  /** Folder of the built page. */
  readonly pages: string
  readonly core: CoreThread
  readonly log: Log
  /** How long after its last window closed the host waits for another, as a reload brings one. */
  readonly lingerMs: number
  readonly lastWindowClosed: () => void
  /** A later start by the same user handed its file over, or null. */
  readonly startedAgain: (file: string | null) => void
  /** Answers some paths before the page folder does; for work on the product itself. */
  readonly extraFile?: (path: string) => Promise<PageFile | null>
}

export type Loopback = {
  readonly port: number
  /** What a later start of the same user must show. */
  readonly secret: string
  /** An address that lets one window in, once. */
  newLink(): string
  /** Closes every window's socket, as when its page should load again. */
  dropWindows(): void
  close(): Promise<void>
}

/** Where a page's socket is. */
const socketPath = "/socket"
const enterPath = "/enter/"
const mostWindows = 64
/** How long a later start's window may take to come. */
const openingMs = 30_000
/** How long windows have to say goodbye when the host ends. */
const goodbyeMs = 500

/** WebSocket close codes (RFC 6455, section 7.4.1). */
const goingAway = 1001
const unsupportedData = 1003
const invalidPayload = 1007

/**
 * Serves the page and one socket a window, on 127.0.0.1 only, at a port the system picks. Who has no link gets nothing;
 * a request that names another host or comes from another origin is refused first of all. Every socket has its own line
 * to the core.
 */
export async function startLoopback(options: LoopbackOptions): Promise<Loopback> {
  const { core, log } = options
  const admission = makeAdmission()
  const secret = newSecret()
  const sockets = new WebSocketServer({
    noServer: true,
    maxPayload: mostFrameBytes,
    perMessageDeflate: false,
    clientTracking: true,
  })
  const server = createServer({ maxHeaderSize: 16 * 1024 }, (request, response) => {
    answer(request, response).catch((error: unknown) => {
      log.write(`loopback: ${traceOf(error)}`)
      response.destroy()
    })
  })
  server.on("upgrade", upgrade)
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject)
    server.listen({ host: "127.0.0.1", port: 0, exclusive: true }, resolve)
  })
  const address = server.address()
  if (address === null || typeof address === "string") throw new Error("the host got no port")
  const { port } = address
  const cookieName = `stintbook_${port}`
  let closing: NodeJS.Timeout | undefined

  /** Ends the host unless a window comes before. */
  function endAfter(ms: number): void {
    clearTimeout(closing)
    closing = setTimeout(options.lastWindowClosed, ms)
  }

  /** What forbids a request before anything else is looked at; a page's own requests may leave the origin out. */
  function refused(request: IncomingMessage): Refusal | null {
    if (!hostAllowed(request.headers.host, port)) return misdirected
    const { origin } = request.headers
    if (origin !== undefined && !originAllowed(origin, port)) return foreign
    return null
  }

  async function answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const refusal = refused(request) ?? (siteAllowed(request.headers["sec-fetch-site"]) ? null : foreign)
    if (refusal !== null) return refuse(response, refusal)
    const path = (request.url ?? "").split("?", 1)[0] ?? ""
    if (path === againPath) return again(request, response)
    if (request.method !== "GET" && request.method !== "HEAD") return refuse(response, notAllowed)
    if (path.startsWith(enterPath)) return enter(path.slice(enterPath.length), request, response)
    if (!hasSession(request)) return refuse(response, uninvited)
    const file = (await options.extraFile?.(path)) ?? (await pageFile(options.pages, path))
    if (file === null) return refuse(response, notThere)
    response.writeHead(200, {
      ...pageHeaders,
      "Content-Type": file.type,
      "Content-Length": file.bytes.byteLength,
    })
    response.end(request.method === "HEAD" ? undefined : file.bytes)
  }

  /** Lets a window in: a link gives a session once. Asking only for the head, as link checkers do, does not use it up. */
  function enter(token: string, request: IncomingMessage, response: ServerResponse): void {
    if (request.method !== "GET") return refuse(response, notAllowed)
    const session = admission.redeem(token)
    if (session === null) return refuse(response, uninvited)
    response.writeHead(303, {
      ...pageHeaders,
      Location: "/",
      "Set-Cookie": `${cookieName}=${session}; Path=/; HttpOnly; SameSite=Strict`,
    })
    response.end()
  }

  /** A later start shows the secret, hands over the file it was given, and gets a link for a window of its own. */
  async function again(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const shown = request.headers.authorization ?? ""
    if (request.method !== "POST" || !sameSecret(shown, `Bearer ${secret}`))
      return refuse(response, uninvited)
    const ask = AgainAsk.safeParse(await smallJson(request))
    if (!ask.success) return refuse(response, unreadable)
    options.startedAgain(ask.data.file)
    if (sockets.clients.size === 0) endAfter(openingMs)
    response.writeHead(200, { ...pageHeaders, "Content-Type": "application/json" })
    response.end(JSON.stringify({ link: newLink() } satisfies AgainAnswer))
  }

  function hasSession(request: IncomingMessage): boolean {
    const cookies = (request.headers.cookie ?? "").split(";").map((part) => part.trim())
    return cookies.some(
      (cookie) => cookie.startsWith(`${cookieName}=`) && admission.knows(cookie.slice(cookieName.length + 1)),
    )
  }

  function upgrade(request: IncomingMessage, socket: Duplex, head: Buffer): void {
    const refusal =
      refused(request) ??
      (originAllowed(request.headers.origin, port) ? null : foreign) ??
      (hasSession(request) ? null : uninvited) ??
      (request.url === socketPath ? null : notThere) ??
      (sockets.clients.size < mostWindows ? null : tooMany)
    if (refusal === null) {
      sockets.handleUpgrade(request, socket, head, serveWindow)
      return
    }
    log.write(`loopback: a socket was refused with ${refusal.status}`)
    socket.on("error", () => socket.destroy())
    socket.end(`HTTP/1.1 ${refusal.status} Refused\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`)
  }

  function serveWindow(socket: WebSocket): void {
    clearTimeout(closing)
    log.write(`window opened, ${sockets.clients.size} open`)
    const line = core.connect((message) => socket.send(encodedOrProblem(message)))
    socket.on("message", (data, binary) => {
      if (binary) return socket.close(unsupportedData, "Frames are text.")
      try {
        line.send(decode(Buffer.isBuffer(data) ? data.toString("utf8") : ""))
      } catch (error) {
        log.write(`loopback: ${traceOf(error)}`)
        socket.close(invalidPayload, "The frame could not be read.")
      }
    })
    socket.on("error", (error) => log.write(`loopback: ${error.message}`))
    socket.on("close", () => {
      line.close()
      log.write(`window closed, ${sockets.clients.size} open`)
      if (sockets.clients.size === 0) endAfter(options.lingerMs)
    })
  }

  /** An answer that no frame can carry becomes a problem of that call instead of the host's end. */
  function encodedOrProblem(message: Envelope): string {
    try {
      return encode(message)
    } catch (error) {
      log.write(`loopback: ${traceOf(error)}`)
      return encode({ t: "problem", id: "id" in message ? message.id : 0, problem: problemOf(error) })
    }
  }

  function newLink(): string {
    return `${loopbackOrigin(port)}${enterPath}${admission.issue()}`
  }

  const dropWindows = (): void => {
    for (const socket of sockets.clients) socket.close(goingAway, "The host ends or loads again.")
  }

  return {
    port,
    secret,
    newLink,
    dropWindows,
    close: async () => {
      clearTimeout(closing)
      server.removeAllListeners("upgrade")
      const ended = new Promise((resolve) => server.close(resolve))
      dropWindows()
      await allClosed(sockets.clients)
      for (const socket of sockets.clients) socket.terminate()
      clearTimeout(closing)
      server.closeAllConnections()
      await ended
    },
  }
}

/** Waits until every window said goodbye, or a moment. */
async function allClosed(clients: ReadonlySet<WebSocket>): Promise<void> {
  for (let waited = 0; clients.size > 0 && waited < goodbyeMs; waited += 10) await delay(10)
}
