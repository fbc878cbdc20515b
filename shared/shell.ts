import type { Port } from "./rpc.ts"

/** A file that crosses between a page and the shell: its name and bytes, never its path. */
export type ShellFile = { readonly name: string; readonly bytes: Uint8Array }

/** What the desktop shell puts into its pages as `window.stintbook`; a browser window has none. */
export type Shell = {
  readonly port: Port
  /** Lets the user choose files to read; none where they thought better of it. */
  openFiles(): Promise<readonly ShellFile[]>
  /** Lets the user choose where a file goes; whether it was written. */
  saveFile(file: ShellFile): Promise<boolean>
  /** Tells which commands do something now, so that no menu offers another. */
  setAble(ids: readonly string[]): void
  /** Hears the id of every command chosen in the menus; returns how to stop. */
  onCommand(listener: (id: string) => void): () => void
}
