import type { Output } from "../../../shared/api.ts"
import type { SheetCell } from "../../../shared/sheet.ts"
import type { GridCell } from "../../parts/grid/types.ts"

/** A cell by the page's key of its row and its column. */
export const cellKey = (key: string, column: string): string => `${key}/${column}`

/** How the tape writes a place and a presentation that are not known. */
const nothing: ReadonlySet<string> = new Set(["[]", "[?]"])

export function shownCells<C extends string>(
  columns: readonly C[],
  key: string,
  cells: Readonly<Record<C, SheetCell>> | null,
  typed: ReadonlyMap<string, string>,
): Record<string, GridCell> {
  return Object.fromEntries(
    columns.map((column): [string, GridCell] => {
      const stored = cells?.[column]
      const own = typed.get(cellKey(key, column))
      const text = stored === undefined || stored.carried || nothing.has(stored.text) ? "" : stored.text
      return [
        column,
        {
          text: own ?? text,
          // What is carried changes with the rows above: one's own edits on their way may change it, nobody's typing is lost by it.
          was: own === undefined && stored?.carried !== true ? (stored?.text ?? null) : null,
          carried: stored?.carried === true && !nothing.has(stored.text) ? stored.text : null,
          said: own === undefined ? (stored?.said ?? "") : "",
          wrong: own === undefined ? (stored?.unclear?.sentence ?? null) : null,
        },
      ]
    }),
  )
}

/** What is told of the time before a row. */
export const remarkBefore = (sheet: Output<"day.cells"> | null, row: string): string | null =>
  sheet?.times.find((time) => time.row === row)?.sentence ?? null
