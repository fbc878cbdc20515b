import type { Envelope, Port } from "../../shared/rpc.ts"
import type { Shell } from "../../shared/shell.ts"
import { decode, encode } from "../../shared/wire.ts"

/** A port to the core, and a promise that settles when the core can no longer be reached. */
export type OpenPort = { readonly port: Port; readonly gone: Promise<void> }

declare global {
  interface Window {
    /** A browser window has none. */
    readonly stintbook?: Shell
  }
}

/** Over the shell's own channel where there is one, else over the socket of the host that served this page. */
export function openPort(): OpenPort {
  const shell = window.stintbook
  return shell === undefined ? overSocket() : { port: shell.port, gone: new Promise(() => undefined) }
}

function overSocket(): OpenPort {
  const address = new URL("/socket", location.href)
  address.protocol = "ws:"
  const socket = new WebSocket(address)
  const listeners = new Set<(message: Envelope) => void>()
  const early: string[] = []
  socket.addEventListener("open", () => {
    for (const text of early.splice(0)) socket.send(text)
  })
  socket.addEventListener("message", ({ data }) => {
    if (typeof data !== "string") return
    const message = decode(data)
    for (const listener of listeners) listener(message)
  })
  return {
    port: {
      send: (message) => {
        const text = encode(message)
        if (socket.readyState === WebSocket.CONNECTING) early.push(text)
        else socket.send(text)
      },
      hear: (listener) => {
        listeners.add(listener)
        return () => listeners.delete(listener)
      },
    },
    gone: new Promise((resolve) => socket.addEventListener("close", () => resolve(), { once: true })),
  }
}
