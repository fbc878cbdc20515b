// The Electron window: the same page and core as the loopback host has, under the same policy.
import { join } from "node:path"
import {
  app,
  BrowserWindow,
  dialog,
  ipcMain,
  Menu,
  MessageChannelMain,
  protocol,
  screen,
  session,
  shell,
  type IpcMainEvent,
  type IpcMainInvokeEvent,
} from "electron"
import { commands } from "../shared/commands.ts"
import { envelopeIn } from "../shared/wire.ts"
import { channels } from "./channels.ts"
import { startCore, traceOf } from "./coreThread.ts"
import { FileToSave, openFiles, saveFile } from "./dialogs.ts"
import { thisSystem } from "./folders.ts"
import { guardContents, guardSession } from "./guard.ts"
import { openLog } from "./log.ts"
import { greyOthers, menuTemplate } from "./menu.ts"
import { pageFile } from "./pages.ts"
import { pageAddress, pageHeaders, pageScheme, senderAllowed, webPreferences } from "./policy.ts"
import { readWindowStart } from "./startOptions.ts"
import { keepWindowState, placeFor, readWindowState } from "./windowState.ts"

const built = import.meta.dirname
const pages = join(built, "..", "renderer")

const programArguments = (argv: readonly string[]): readonly string[] => argv.slice(app.isPackaged ? 1 : 2)
const options = readWindowStart(programArguments(process.argv), process.cwd(), thisSystem())
const log = openLog(options.config)
const placeFile = join(options.config, "window.json")

let named = options.file
let core: ReturnType<typeof startCore> | null = null
let window: BrowserWindow | null = null

app.setPath("userData", join(options.config, "electron"))
app.enableSandbox()
protocol.registerSchemesAsPrivileged([{ scheme: pageScheme, privileges: { standard: true, secure: true } }])
app.on("web-contents-created", (_event, contents) =>
  guardContents(contents, (address) => void shell.openExternal(address)),
)
app.on("open-file", (event, path) => {
  event.preventDefault()
  openLogbook(path)
})

if (!app.requestSingleInstanceLock()) app.quit()
else {
  app.on("second-instance", (_event, argv, folder) => {
    const { file } = readWindowStart(programArguments(argv), folder, thisSystem())
    if (file !== null) openLogbook(file)
    if (window?.isMinimized()) window.restore()
    window?.focus()
  })
  app.on("window-all-closed", () => app.quit())
  app.on("will-quit", () => void core?.close())
  app.whenReady().then(begin).catch(failed)
}

/** Opens a logbook now, or at the start where the core is not there yet. */
function openLogbook(path: string): void {
  if (core === null) named = path
  else void core.open(path)
}

function begin(): void {
  log.write(`window started, Electron ${process.versions.electron} on ${process.platform} ${process.arch}`)
  guardSession(session.defaultSession)
  protocol.handle(pageScheme, answerPage)
  core = startCore(
    new URL("./core.js", import.meta.url),
    { folder: options.folder, config: options.config, open: named },
    log,
  )
  ipcMain.on(channels.line, giveLine)
  ipcMain.handle(channels.openFiles, (event) => openFiles(windowOf(event)))
  ipcMain.handle(channels.saveFile, (event, file: unknown) =>
    saveFile(windowOf(event), FileToSave.parse(file)),
  )
  ipcMain.on(channels.able, (event, ids: unknown) => {
    const menu = isOurs(event) ? Menu.getApplicationMenu() : null
    if (menu !== null) greyOthers(menu, commands, ids)
  })
  const choose = (id: string): void => window?.webContents.send(channels.command, id)
  Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(commands, process.platform, choose)))
  window = openWindow()
}

async function answerPage(request: Request): Promise<Response> {
  const { host, pathname } = new URL(request.url)
  const file = host === "app" ? await pageFile(pages, pathname) : null
  if (file === null) return new Response("There is no such page.", { status: 404, headers: pageHeaders })
  return new Response(file.bytes, { headers: { ...pageHeaders, "Content-Type": file.type } })
}

function openWindow(): BrowserWindow {
  const kept = readWindowState(placeFile)
  const areas = screen.getAllDisplays().map(({ workArea }) => workArea)
  const opened = new BrowserWindow({
    ...placeFor(kept, areas),
    minWidth: 480,
    minHeight: 360,
    title: "Stintbook",
    show: false,
    webPreferences: { ...webPreferences, preload: join(built, "preload.cjs") },
  })
  if (kept?.maximized === true) opened.maximize()
  opened.once("ready-to-show", () => opened.show())
  opened.on("close", () =>
    keepWindowState(placeFile, { ...opened.getNormalBounds(), maximized: opened.isMaximized() }),
  )
  opened.on("closed", () => (window = null))
  opened.webContents.on("render-process-gone", (_event, { reason }) => void pageGone(opened, reason))
  opened.loadURL(pageAddress).catch((error: unknown) => log.write(`page: ${traceOf(error)}`))
  return opened
}

/** The page's process ended by itself: says so, and loads the page again. */
async function pageGone(from: BrowserWindow, reason: string): Promise<void> {
  log.write(`page gone: ${reason}`)
  await dialog.showMessageBox(from, {
    type: "warning",
    message: "The window's page stopped. Everything saved is kept; it loads again.",
  })
  from.reload()
}

/** Gives a page a line of its own to the core, which ends with the page. */
function giveLine(event: IpcMainEvent): void {
  if (core === null || event.senderFrame === null || !isOurs(event)) return
  const { port1, port2 } = new MessageChannelMain()
  const line = core.connect((message) => port1.postMessage(message))
  port1.on("message", ({ data }) => {
    try {
      line.send(envelopeIn(data))
    } catch (error) {
      log.write(`page: ${traceOf(error)}`)
    }
  })
  port1.on("close", () => line.close())
  port1.start()
  event.senderFrame.postMessage(channels.line, null, [port2])
}

function isOurs({ senderFrame }: IpcMainEvent | IpcMainInvokeEvent): boolean {
  return senderAllowed(
    senderFrame === null ? null : { url: senderFrame.url, top: senderFrame.parent === null },
  )
}

/** The window a message comes from; throws where it is none of ours. */
function windowOf(event: IpcMainInvokeEvent): BrowserWindow {
  const from = isOurs(event) ? BrowserWindow.fromWebContents(event.sender) : null
  if (from === null) throw new Error("not a page of ours")
  return from
}

function failed(error: unknown): void {
  log.write(`window: ${traceOf(error)}`)
  dialog.showErrorBox("Stintbook could not start", traceOf(error))
  app.exit(1)
}
