import { useSyncExternalStore } from "react"
import type { Ink } from "./figure.ts"

const light: Omit<Ink, "size"> = {
  ink: "#1b2733",
  soft: "#56616c",
  rule: "#d8d3c6",
  paper: "#fbfaf6",
  sea: "#0b5a6b",
  night: "#dfe3e8",
  dusk: "#ece9df",
  classes: ["#0a6b7d", "#c4541a", "#5b7f1c", "#8a4f8f", "#9a7a00", "#4a5f9e", "#9c3d55", "#5d6873"],
}
const dark: Omit<Ink, "size"> = {
  ink: "#e9e4d8",
  soft: "#a3afba",
  rule: "#2a3745",
  paper: "#0f1823",
  sea: "#7cc4d4",
  night: "#0a1019",
  dusk: "#16222f",
  classes: ["#56b4c9", "#e88a4f", "#a5c25c", "#c994cd", "#d9b93a", "#8fa5e0", "#e08aa0", "#a3afba"],
}

const darkSystem = matchMedia("(prefers-color-scheme: dark)")

function listen(heard: () => void): () => void {
  darkSystem.addEventListener("change", heard)
  const watcher = new MutationObserver(heard)
  watcher.observe(document.documentElement, {
    attributes: true,
    attributeFilter: ["data-theme", "data-text"],
  })
  return () => {
    darkSystem.removeEventListener("change", heard)
    watcher.disconnect()
  }
}

const state = (): string => {
  const { theme, text } = document.documentElement.dataset
  const isDark = theme === "dark" || (theme !== "light" && darkSystem.matches)
  return `${isDark ? "dark" : "light"} ${text ?? "normal"}`
}

/** The ink of the present theme and text size; charts are drawn again when it changes. */
export function useInk(): Ink {
  const [shade] = useSyncExternalStore(listen, state).split(" ")
  const size = parseFloat(getComputedStyle(document.documentElement).fontSize) || 16
  return { ...(shade === "dark" ? dark : light), size }
}

/** What is drawn on paper: always the light ink. */
export const printInk = (size: number): Ink => ({ ...light, size })
