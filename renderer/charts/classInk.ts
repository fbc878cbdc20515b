import type { Ink } from "./figure.ts"

/** How a lure class is drawn: in its colour, filled, or as an outline once the colours have been round. */
export type ClassInk = { readonly colour: string; readonly open: boolean }

/**
 * The look of a lure class: by its place in `classes`, the sorted list of the logbook's classes, so that it is the same in
 * every picture of a page. A stint without a class is a plain outline.
 */
export function classInk(name: string | null, classes: readonly string[], ink: Ink): ClassInk {
  const place = name === null ? -1 : classes.indexOf(name)
  const colour = ink.classes[place % ink.classes.length]
  if (place < 0 || colour === undefined) return { colour: ink.soft, open: true }
  return { colour, open: place >= ink.classes.length }
}
