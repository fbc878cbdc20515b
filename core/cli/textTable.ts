/** A column of a plain-text table. The one marked `wraps` takes the width that the others leave. */
export type TextColumn = {
  readonly title: string
  readonly align: "left" | "right"
  readonly wraps?: boolean
}

const gap = "  "
const narrowestWrap = 8

/** Breaks a text at blanks into lines of at most `width`; a longer word is cut. Line breaks in the text are kept. */
export function wrapText(text: string, width: number): string[] {
  return text.split("\n").flatMap((paragraph) => {
    if (paragraph.length <= width) return [paragraph]
    const lines: string[] = []
    let line = ""
    for (const word of paragraph.split(" ").flatMap((word) => chunks(word, width))) {
      if (line !== "" && line.length + 1 + word.length > width) {
        lines.push(line)
        line = word
      } else line = line === "" ? word : `${line} ${word}`
    }
    return [...lines, line]
  })
}

const chunks = (word: string, width: number): string[] =>
  word.length <= width ? [word] : [word.slice(0, width), ...chunks(word.slice(width), width)]

/**
 * Lines of a table aligned for a terminal, titles first, no wider than `width` as long as the other columns leave the
 * wrapping one `narrowestWrap` columns. A cell may hold several lines.
 */
export function textTable(
  columns: readonly TextColumn[],
  rows: readonly (readonly string[])[],
  width: number,
): string[] {
  const natural = columns.map((_, c) => columnWidth(columns, rows, c))
  const fixed = natural.reduce((sum, w, c) => sum + (columns[c]?.wraps === true ? 0 : w), 0)
  const left = Math.max(narrowestWrap, width - fixed - gap.length * (columns.length - 1))
  const widths = natural.map((w, c) => (columns[c]?.wraps === true ? Math.min(w, left) : w))
  const print = (cells: readonly string[]): string[] => {
    const split = cells.map((cell, c) => wrapText(cell, widths[c] ?? cell.length))
    const height = Math.max(...split.map((lines) => lines.length))
    return Array.from({ length: height }, (_, i) =>
      split
        .map((lines, c) => pad(lines[i] ?? "", widths[c] ?? 0, columns[c]?.align ?? "left"))
        .join(gap)
        .trimEnd(),
    )
  }
  return [columns.map(({ title }) => title), ...rows].flatMap(print)
}

/** Width of a column's longest line, its title included. */
export const columnWidth = (
  columns: readonly TextColumn[],
  rows: readonly (readonly string[])[],
  column: number,
): number =>
  Math.max(
    columns[column]?.title.length ?? 0,
    ...rows.flatMap((row) => (row[column] ?? "").split("\n").map((line) => line.length)),
  )

const pad = (text: string, width: number, align: "left" | "right"): string =>
  align === "left" ? text.padEnd(width) : text.padStart(width)
