import { createHash } from "node:crypto"
import { fold, spaced } from "./fold.ts"
import { readFormulaText } from "../formula.ts"
import { type Layout, headerName } from "./layout.ts"

/** Hashes the records of one table so that the same row is known again whatever its spacing, case and column order. */
export function rowHasher(
  layout: Layout,
): (cells: readonly string[]) => { hash: string; stint_hash: string } {
  const counted = new Set(
    layout.columns
      .filter(
        ({ target }) => target.kind === "count" || (target.kind === "word" && target.field === "species"),
      )
      .flatMap(({ cells }) => cells),
  )
  const headers = layout.headers
    .map((_, cell) => ({ cell, name: fold(headerName(layout.headers, cell)), counted: counted.has(cell) }))
    .toSorted((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : a.cell - b.cell))
  return (cells) => {
    let all = ""
    let stint = ""
    for (const { cell, name, counted: isCount } of headers) {
      const text = spaced(readFormulaText(cells[cell] ?? ""))
      if (text === "") continue
      const entry = `${name}\u001F${text.toLowerCase()}\u001E`
      all += entry
      if (!isCount) stint += entry
    }
    return { hash: digest(all), stint_hash: digest(stint) }
  }
}

const digest = (text: string): string => createHash("sha256").update(text).digest("hex").slice(0, 32)
