/** A cell as it is shown: what was typed, what it reads as, and why it cannot be read. */
export type GridCell = {
  readonly text: string
  /** What the store holds for it, by which a change from elsewhere is seen; null where that is on its way. */
  readonly was: string | null
  /** What it takes over from the row above, shown where it is empty. */
  readonly carried: string | null
  /** The cell in words, for the line below the grid and those who hear it. */
  readonly said: string
  /** Why it cannot be read yet; it stays as typed until it is mended. */
  readonly wrong: string | null
}

/** A choice that a cell may hold, by its code and its name. */
export type GridChoice = { readonly text: string; readonly said: string }

export type GridColumn = {
  readonly id: string
  readonly label: string
  /** What to type in it, for the line below the grid. */
  readonly help: string
  readonly numeric?: boolean
  /** What may stand in the cell, while it is typed in. */
  readonly choices?: (typed: string) => readonly GridChoice[]
}

/** A row; one without cells is empty and becomes a row by being typed in. */
export type GridRow = {
  readonly key: string
  readonly cells: Readonly<Record<string, GridCell>> | null
  /** A remark that belongs to the row, such as a gap before it. */
  readonly remark: string | null
}

/** What is done to a grid. Keys are those of its rows. */
export type GridActs = {
  /** The text of one cell, as it is to be; `was` as the cell had it when it was begun to be changed. */
  readonly set: (key: string, column: string, text: string, was: string | null) => void
  /** The same text into several cells, as one act. */
  readonly setAll: (
    cells: readonly { key: string; column: string; was: string | null }[],
    text: string,
  ) => void
  readonly paste: (key: string, column: string, block: readonly (readonly string[])[]) => void
  /** The first row's text into the others. */
  readonly fill: (keys: readonly string[], columns: readonly string[]) => void
  readonly remove: (keys: readonly string[]) => void
  readonly insert: (after: string) => void
}

export const noCell: GridCell = { text: "", was: null, carried: null, said: "", wrong: null }
