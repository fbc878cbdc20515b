/** A word as it is compared: without case, accents, spaces, underscores and hyphens. "Hook-ups " is "hookups". */
export const fold = (text: string): string => withoutAccents(text).replaceAll(/[\s_\-‐‑–]+/g, "")

/** The parts of a header between spaces, underscores, hyphens and marks, folded: "Water temp." is water, temp. */
export const foldedParts = (text: string): string[] =>
  withoutAccents(text)
    .split(/[\s_\-‐‑–.,:;]+/)
    .filter((part) => part !== "")

/** Trimmed, with every run of spaces inside made one. */
export const spaced = (text: string): string => text.trim().replaceAll(/\s+/g, " ")

const withoutAccents = (text: string): string =>
  text
    .normalize("NFD")
    .replaceAll(/\p{Mn}/gu, "")
    .toLowerCase()
