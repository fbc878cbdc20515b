import type { MenuItemConstructorOptions } from "electron"
import type { Command } from "../shared/commands.ts"

const separator: MenuItemConstructorOptions = { type: "separator" }
const editing: readonly MenuItemConstructorOptions[] = [
  { role: "undo" },
  { role: "redo" },
  separator,
  { role: "cut" },
  { role: "copy" },
  { role: "paste" },
  { role: "selectAll" },
]
const sizing: readonly MenuItemConstructorOptions[] = [
  { role: "resetZoom" },
  { role: "zoomIn" },
  { role: "zoomOut" },
  { role: "togglefullscreen" },
]

/** The menu bar: the product's commands in their menus, with the system's own entries; `choose` gets a command's id. */
export function menuTemplate(
  commands: readonly Command[],
  platform: NodeJS.Platform,
  choose: (id: string) => void,
): MenuItemConstructorOptions[] {
  const of = (menu: Command["menu"]): MenuItemConstructorOptions[] =>
    commands.filter((command) => command.menu === menu).map((command) => item(command, choose))
  const leaving: MenuItemConstructorOptions = { role: platform === "darwin" ? "close" : "quit" }
  return [
    ...(platform === "darwin" ? [{ role: "appMenu" } as const] : []),
    { label: "&File", submenu: [...of("File"), separator, leaving] },
    { label: "&Edit", submenu: [...editing] },
    { label: "&Log", submenu: of("Log") },
    { label: "&View", submenu: [...of("View"), separator, ...sizing] },
    { label: "&Answer", submenu: of("Answer") },
    { label: "&Help", submenu: of("Help") },
  ]
}

/** What the product's own entries of a menu bar are called by, and whether they can be chosen. */
type Entries = { getMenuItemById(id: string): { enabled: boolean } | null }

/** Greys the entries of commands that do nothing in the page just now; `able` as the page told it, which may be anything. */
export function greyOthers(menu: Entries, commands: readonly Command[], able: unknown): void {
  const ids: readonly unknown[] = Array.isArray(able) ? able : []
  for (const { id } of commands) {
    const entry = menu.getMenuItemById(id)
    if (entry !== null) entry.enabled = ids.includes(id)
  }
}

/**
 * A command's entry. Its key is shown, but the page listens to it itself; a key that types a character outside commands
 * has no place in a menu.
 */
function item({ id, label, key, typing }: Command, choose: (id: string) => void): MenuItemConstructorOptions {
  return {
    id,
    label,
    click: () => choose(id),
    ...(typing ? { accelerator: key.replace("Mod+", "CmdOrCtrl+"), registerAccelerator: false } : {}),
  }
}
