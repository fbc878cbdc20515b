const listeners = new Set<(words: string) => void>()

/** Tells at the window's edge what was just done, where the page it was done on is gone: it can be undone. */
export const tellAct = (words: string): void => {
  for (const heard of listeners) heard(words)
}

/** Hears of what is told until it is given up. */
export const hearActs = (heard: (words: string) => void): (() => void) => {
  listeners.add(heard)
  return () => void listeners.delete(heard)
}
