/** A cell of a grid by its row's and column's number, from 0. */
export type Place = { readonly row: number; readonly column: number }
/** Where one is: the cell with the focus, and the corner from which a block was drawn; the same cell where none is. */
export type Cursor = { readonly at: Place; readonly from: Place }
export type Size = { readonly rows: number; readonly columns: number }

export const cursorAt = (row: number, column: number): Cursor => ({
  at: { row, column },
  from: { row, column },
})

const within = (value: number, most: number): number => Math.min(Math.max(value, 0), most - 1)

/** Moves the cursor by rows and columns, no further than the grid goes; `extend` draws the block along. */
export function moved(cursor: Cursor, rows: number, columns: number, size: Size, extend = false): Cursor {
  const at = {
    row: within(cursor.at.row + rows, size.rows),
    column: within(cursor.at.column + columns, size.columns),
  }
  return { at, from: extend ? cursor.from : at }
}

/** The next cell by Tab, at a row's end the first of the next row; null where the grid ends, so that the focus leaves it. */
export function tabbed({ at }: Cursor, back: boolean, { rows, columns }: Size): Cursor | null {
  const place = at.row * columns + at.column + (back ? -1 : 1)
  return place < 0 || place >= rows * columns ? null : cursorAt(Math.floor(place / columns), place % columns)
}

/** The block from one corner to the other, ends included. */
export function blockOf({ at, from }: Cursor): { rows: [number, number]; columns: [number, number] } {
  return {
    rows: [Math.min(at.row, from.row), Math.max(at.row, from.row)],
    columns: [Math.min(at.column, from.column), Math.max(at.column, from.column)],
  }
}

export const inBlock = (cursor: Cursor, row: number, column: number): boolean => {
  const { rows, columns } = blockOf(cursor)
  return row >= rows[0] && row <= rows[1] && column >= columns[0] && column <= columns[1]
}

export const isOneCell = ({ at, from }: Cursor): boolean => at.row === from.row && at.column === from.column

/** How a key moves the cursor, after the grid pattern of the ARIA Authoring Practices Guide; null where it does not. */
export function movedByKey(
  cursor: Cursor,
  { key, shiftKey, ctrlKey, metaKey }: Pick<KeyboardEvent, "key" | "shiftKey" | "ctrlKey" | "metaKey">,
  size: Size,
  page: number,
): Cursor | null {
  const mod = ctrlKey || metaKey
  const far = Infinity
  const by = (rows: number, columns: number) => moved(cursor, rows, columns, size, shiftKey)
  switch (key) {
    case "ArrowUp":
      return by(mod ? -far : -1, 0)
    case "ArrowDown":
      return by(mod ? far : 1, 0)
    case "ArrowLeft":
      return by(0, mod ? -far : -1)
    case "ArrowRight":
      return by(0, mod ? far : 1)
    case "Home":
      return by(mod ? -far : 0, -far)
    case "End":
      return by(mod ? far : 0, far)
    case "PageUp":
      return by(-page, 0)
    case "PageDown":
      return by(page, 0)
    default:
      return null
  }
}
