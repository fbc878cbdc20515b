// Runs in the Electron window before its page, sandboxed: gives the page a line to the core, and the system's dialogs.
import { contextBridge, ipcRenderer } from "electron"
import type { Envelope } from "../shared/rpc.ts"
import type { Shell, ShellFile } from "../shared/shell.ts"
import { channels } from "./channels.ts"

const listeners = new Set<(message: Envelope) => void>()
const early: Envelope[] = []
let line: MessagePort | null = null

ipcRenderer.on(channels.line, ({ ports: [port] }) => {
  if (port === undefined) return
  line = port
  port.addEventListener("message", ({ data }: MessageEvent<Envelope>) => {
    for (const listener of listeners) listener(data)
  })
  port.start()
  for (const message of early.splice(0)) port.postMessage(message)
})
ipcRenderer.send(channels.line)

const shell: Shell = {
  port: {
    send: (message) => {
      if (line === null) early.push(message)
      else line.postMessage(message)
    },
    hear: (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  },
  openFiles: () => ipcRenderer.invoke(channels.openFiles).then((files: ShellFile[]) => files),
  saveFile: (file) => ipcRenderer.invoke(channels.saveFile, file).then((written: boolean) => written),
  setAble: (ids) => ipcRenderer.send(channels.able, ids),
  onCommand: (listener) => {
    const hear = (_event: unknown, id: string): void => listener(id)
    ipcRenderer.on(channels.command, hear)
    return () => void ipcRenderer.off(channels.command, hear)
  },
}
contextBridge.exposeInMainWorld("stintbook", shell)
