import { readFile, rename, rm, stat, writeFile } from "node:fs/promises"
import { basename } from "node:path"
import { dialog, type BrowserWindow } from "electron"
import { z } from "zod"
import { fileName, mostUploadBytes } from "../shared/desk.ts"
import type { ShellFile } from "../shared/shell.ts"

/** What a page may hand over to be saved. */
export const FileToSave = z.strictObject({ name: fileName, bytes: z.instanceof(Uint8Array) })

/** Lets the user choose files, and gives their names and bytes; what is too large to be taken is named in a dialog. */
export async function openFiles(window: BrowserWindow): Promise<ShellFile[]> {
  const { canceled, filePaths } = await dialog.showOpenDialog(window, {
    properties: ["openFile", "multiSelections"],
  })
  if (canceled) return []
  const sizes = await Promise.all(filePaths.map(async (path) => (await stat(path)).size))
  const tooLarge = filePaths.filter((_, i) => (sizes[i] ?? 0) > mostUploadBytes)
  if (tooLarge.length > 0) {
    const names = tooLarge.map((path) => basename(path)).join(", ")
    await dialog.showMessageBox(window, {
      type: "warning",
      message: `${names}: larger than ${mostUploadBytes / 2 ** 20} MB. Split it and open the parts.`,
    })
  }
  return Promise.all(
    filePaths
      .filter((path) => !tooLarge.includes(path))
      .map(async (path) => ({ name: basename(path), bytes: new Uint8Array(await readFile(path)) })),
  )
}

/** Lets the user choose where a file goes, and writes it whole or not at all; whether it was written. */
export async function saveFile(window: BrowserWindow, { name, bytes }: ShellFile): Promise<boolean> {
  const { canceled, filePath } = await dialog.showSaveDialog(window, { defaultPath: name })
  if (canceled || filePath === "") return false
  const part = `${filePath}.part`
  try {
    await writeFile(part, bytes)
    await rename(part, filePath)
    return true
  } catch (error) {
    await rm(part, { force: true })
    const why = error instanceof Error ? error.message : String(error)
    await dialog.showMessageBox(window, { type: "error", message: `The file was not written: ${why}` })
    return false
  }
}
