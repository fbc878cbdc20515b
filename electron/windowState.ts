import { mkdirSync, readFileSync, writeFileSync } from "node:fs"
import { dirname } from "node:path"
import { z } from "zod"

/** A window's place on the screen, in pixels. */
const WindowState = z.object({
  x: z.int(),
  y: z.int(),
  width: z.int().min(480).max(20_000),
  height: z.int().min(360).max(20_000),
  maximized: z.boolean(),
})
export type WindowState = z.infer<typeof WindowState>
export type Area = { readonly x: number; readonly y: number; readonly width: number; readonly height: number }

const usual = { width: 1280, height: 860 }
/** So much of a window must lie on some screen for its user to get hold of it. */
const leastSeen = 100

/** The place kept in a file; null where there is none or it makes no sense. */
export function readWindowState(file: string): WindowState | null {
  try {
    return WindowState.parse(JSON.parse(readFileSync(file, "utf8")))
  } catch {
    return null
  }
}

/** Keeps a window's place; a disk that takes no more is no reason to stop. */
export function keepWindowState(file: string, state: WindowState): void {
  try {
    mkdirSync(dirname(file), { recursive: true })
    writeFileSync(file, JSON.stringify(state))
  } catch {
    // the window opens at its usual place next time
  }
}

/** Where a window opens: its last place as long as one of the screens still shows it, else where the system puts it. */
export function placeFor(
  state: WindowState | null,
  screens: readonly Area[],
): { width: number; height: number; x?: number; y?: number } {
  if (state === null) return usual
  const { x, y, width, height } = state
  const seen = screens.some(
    (screen) =>
      Math.min(x + width, screen.x + screen.width) - Math.max(x, screen.x) >= leastSeen &&
      y >= screen.y &&
      y <= screen.y + screen.height - leastSeen,
  )
  return seen ? { x, y, width, height } : { width, height }
}
