import { useSyncExternalStore } from "react"
import type { Ink } from "./figure.ts"

/**
 * The page's own colours, by name: style/paper.css says what they are by theme, in print, and where the system forces its
 * own. So a theme that changes wants nothing drawn again.
 */
const ofPage: Omit<Ink, "size"> = {
  ink: "var(--ink)",
  soft: "var(--soft)",
  rule: "var(--rule)",
  paper: "var(--paper)",
  sea: "var(--sea)",
  night: "var(--night)",
  dusk: "var(--dusk)",
  classes: Array.from({ length: 8 }, (_, i) => `var(--class-${i + 1})`),
}

/** The same colours as they are by day, for pictures that leave the page. */
const ofPaper: Omit<Ink, "size"> = {
  ink: "#1b2733",
  soft: "#56616c",
  rule: "#d8d3c6",
  paper: "#fbfaf6",
  sea: "#0b5a6b",
  night: "#dfe3e8",
  dusk: "#ece9df",
  classes: ["#0a6b7d", "#c4541a", "#5b7f1c", "#8a4f8f", "#9a7a00", "#4a5f9e", "#9c3d55", "#5d6873"],
}

function listen(heard: () => void): () => void {
  const watcher = new MutationObserver(heard)
  watcher.observe(document.documentElement, { attributes: true, attributeFilter: ["data-text"] })
  return () => watcher.disconnect()
}

const textSize = (): number => parseFloat(getComputedStyle(document.documentElement).fontSize) || 16

/** The ink of the page at the present text size; charts are drawn again when that changes. */
export function useInk(): Ink {
  return { ...ofPage, size: useSyncExternalStore(listen, textSize) }
}

/** What is saved as a picture: always by day, whatever the theme. */
export const printInk = (size: number): Ink => ({ ...ofPaper, size })
