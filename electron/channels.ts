/** Names of the few messages between the Electron window's page and its main process. */
export const channels = {
  /** The page asks for a line to the core; its end of the line comes back under the same name. */
  line: "line",
  openFiles: "open-files",
  saveFile: "save-file",
  /** Which commands do something in the page now. */
  able: "able",
  /** A command chosen in the menus. */
  command: "command",
} as const
