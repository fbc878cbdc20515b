import {
  useCallback,
  useEffect,
  useId,
  useLayoutEffect,
  useRef,
  useState,
  type ClipboardEvent,
  type KeyboardEvent,
  type MouseEvent,
} from "react"
import { blockIn, blockText } from "./block.ts"
import { blockOf, cursorAt, isOneCell, moved, movedByKey, tabbed, type Cursor } from "./cursor.ts"
import type { Leaving } from "./Editor.tsx"
import { Row } from "./Row.tsx"
import { noCell, type GridActs, type GridCell, type GridColumn, type GridRow } from "./types.ts"

/** How many rows Page Up and Page Down go. */
const page = 10

type Editing = {
  readonly text: string
  readonly shown: string
  readonly was: string | null
  readonly replaces: boolean
}

/**
 * A table to type in, after the grid pattern of the ARIA Authoring Practices Guide: arrows move, typing replaces, Enter and F2
 * edit, Tab goes on, Enter keeps and goes to where the row was begun, one below. Blocks are marked with Shift, copied, pasted,
 * filled down and emptied. Escape, then Tab, leaves it.
 */
export function Grid({
  label,
  columns,
  rows,
  acts,
  readOnly = false,
  start = 0,
}: {
  readonly label: string
  readonly columns: readonly GridColumn[]
  readonly rows: readonly GridRow[]
  readonly acts: GridActs
  readonly readOnly?: boolean
  /** The column in which a row is begun. */
  readonly start?: number
}) {
  const id = useId()
  const table = useRef<HTMLTableElement>(null)
  const [cursor, setCursor] = useState<Cursor>(() => cursorAt(Math.max(0, rows.length - 1), start))
  const [editing, setEditing] = useState<Editing | null>(null)
  /** The column in which a run of cells was begun, to which Enter goes back. */
  const begun = useRef<number | null>(null)
  const leaving = useRef(false)
  const wantsFocus = useRef(!readOnly)
  const size = { rows: rows.length, columns: columns.length }
  const shown = useRef(columns)
  if (shown.current !== columns) {
    // A column that comes or goes takes the cursor along with the column it stands in.
    const of = (column: number) =>
      Math.max(
        0,
        columns.findIndex(({ id: one }) => one === shown.current[column]?.id),
      )
    const to = {
      at: { ...cursor.at, column: of(cursor.at.column) },
      from: { ...cursor.from, column: of(cursor.from.column) },
    }
    if (begun.current !== null) begun.current = of(begun.current)
    shown.current = columns
    if (to.at.column !== cursor.at.column || to.from.column !== cursor.from.column) setCursor(to)
  }
  const here = { row: Math.min(cursor.at.row, rows.length - 1), column: cursor.at.column }
  const row = rows[here.row]
  const column = columns[here.column]
  const cell: GridCell = (column === undefined ? undefined : row?.cells?.[column.id]) ?? noCell

  const go = useCallback((to: Cursor) => {
    wantsFocus.current = true
    setCursor(to)
  }, [])
  useLayoutEffect(() => {
    if (!wantsFocus.current || editing !== null) return
    wantsFocus.current = false
    const target = table.current?.querySelector<HTMLElement>(
      `[data-row="${here.row}"][data-column="${here.column}"]`,
    )
    target?.focus({ preventScroll: true })
    target?.scrollIntoView({ block: "nearest", inline: "nearest" })
  }, [here.row, here.column, editing, rows])

  const latest = useRef({ rows, columns, cursor, editing, acts, row, column, size, here })
  latest.current = { rows, columns, cursor, editing, acts, row, column, size, here }

  const cellsIn = (of: Cursor): { key: string; column: string; was: string | null; text: string }[] => {
    const { rows: all, columns: heads } = latest.current
    const block = blockOf(of)
    return all.slice(block.rows[0], block.rows[1] + 1).flatMap((one) =>
      heads.slice(block.columns[0], block.columns[1] + 1).map((head) => {
        const { text, was } = one.cells?.[head.id] ?? noCell
        return { key: one.key, column: head.id, was, text }
      }),
    )
  }

  const onKeep = useCallback(
    (text: string, how: Leaving) => {
      const now = latest.current
      const { row: of, column: head, editing: edit } = now
      setEditing(null)
      if (of === undefined || head === undefined || edit === null) return
      if (how === "all") now.acts.setAll(cellsIn(now.cursor), text)
      else if (text !== edit.shown) now.acts.set(of.key, head.id, text, edit.was)
      if (how === "stay" && !table.current?.contains(document.activeElement)) return
      const at = now.here
      const rowsThen = { ...now.size, rows: now.size.rows + (of.cells === null ? 1 : 0) }
      if (how === "next" || how === "back") {
        begun.current ??= at.column
        go(tabbed(cursorAt(at.row, at.column), how === "back", rowsThen) ?? cursorAt(at.row, at.column))
      } else if (how === "down" || how === "up") {
        const to = begun.current ?? at.column
        begun.current = null
        go(moved(cursorAt(at.row, to), how === "down" ? 1 : -1, 0, rowsThen))
      } else go(how === "all" ? now.cursor : cursorAt(at.row, at.column))
    },
    [go],
  )
  const onLeave = useCallback(() => {
    wantsFocus.current = true
    setEditing(null)
  }, [])

  // A window that is closed keeps what is being typed.
  useEffect(() => {
    const closing = (): void => {
      const active = document.activeElement
      if (active instanceof HTMLInputElement && table.current?.contains(active)) active.blur()
    }
    window.addEventListener("beforeunload", closing)
    window.addEventListener("pagehide", closing)
    return () => {
      window.removeEventListener("beforeunload", closing)
      window.removeEventListener("pagehide", closing)
    }
  }, [])

  const begin = (text: string, replaces: boolean): void => {
    if (readOnly) return
    setEditing({ text, shown: cell.text, was: cell.was, replaces })
  }
  const heard = (event: KeyboardEvent<HTMLTableElement>): void => {
    if (editing !== null || row === undefined || column === undefined) return
    const { key, ctrlKey, metaKey, altKey, shiftKey } = event
    const mod = ctrlKey || metaKey
    const take = (): void => {
      event.preventDefault()
      event.stopPropagation()
    }
    if (altKey) return
    const to = movedByKey({ ...cursor, at: here }, event, size, page)
    if (to !== null) {
      take()
      begun.current = null
      go(to)
      return
    }
    if (key === "Tab") {
      const next = leaving.current ? null : tabbed(cursorAt(here.row, here.column), shiftKey, size)
      leaving.current = false
      if (next === null) return
      take()
      begun.current ??= here.column
      go(next)
      return
    }
    leaving.current = key === "Escape"
    if (key === "Escape") {
      if (!isOneCell(cursor)) go(cursorAt(here.row, here.column))
      return
    }
    if (readOnly) return
    const { rows: marked, columns: heads } = blockOf(cursor)
    const keys = rows.slice(marked[0], marked[1] + 1).flatMap((one) => (one.cells === null ? [] : [one.key]))
    if (mod && key.toLowerCase() === "d") {
      take()
      if (keys.length > 1)
        acts.fill(
          keys,
          columns.slice(heads[0], heads[1] + 1).map((head) => head.id),
        )
    } else if (mod && key === "Enter") {
      take()
      acts.insert(row.key)
      go(moved(cursorAt(here.row, start), 1, 0, { ...size, rows: size.rows + 1 }))
    } else if (mod && (key === "Delete" || key === "Backspace")) {
      take()
      if (keys.length > 0) acts.remove(keys)
      go(cursorAt(marked[0], here.column))
    } else if (mod) return
    else if (key === "Enter" || key === "F2") {
      take()
      begin(cell.text, false)
    } else if (key === "Delete" || key === "Backspace") {
      take()
      acts.setAll(
        cellsIn(cursor).filter(({ text }) => text !== ""),
        "",
      )
    } else if (key.length === 1) {
      take()
      begin(key, true)
    }
  }
  const pasted = (event: ClipboardEvent): void => {
    if (editing !== null || readOnly || row === undefined || column === undefined) return
    const text = event.clipboardData.getData("text/plain")
    if (text === "") return
    event.preventDefault()
    const block = blockIn(text)
    const single = block.length === 1 && block[0]?.length === 1
    if (single && !isOneCell(cursor)) acts.setAll(cellsIn(cursor), block[0]?.[0] ?? "")
    else {
      const { rows: marked, columns: heads } = blockOf(cursor)
      const corner = rows[marked[0]]
      const head = columns[heads[0]]
      if (corner !== undefined && head !== undefined) acts.paste(corner.key, head.id, block)
    }
  }
  const copied = (event: ClipboardEvent, cut: boolean): void => {
    if (editing !== null || row === undefined) return
    event.preventDefault()
    const { rows: marked, columns: heads } = blockOf(cursor)
    const shown = columns.slice(heads[0], heads[1] + 1)
    const block = rows
      .slice(marked[0], marked[1] + 1)
      .map((one) => shown.map((head) => one.cells?.[head.id]?.text ?? ""))
    event.clipboardData.setData("text/plain", blockText(block))
    if (cut && !readOnly)
      acts.setAll(
        cellsIn(cursor).filter(({ text }) => text !== ""),
        "",
      )
  }
  const pressed = (event: MouseEvent): void => {
    const target = event.target instanceof Element ? event.target.closest<HTMLElement>("[data-row]") : null
    if (target === null || (event.target instanceof HTMLElement && event.target.closest("input, ul"))) return
    const at = { row: Number(target.dataset["row"]), column: Number(target.dataset["column"]) }
    event.preventDefault()
    if (document.activeElement instanceof HTMLInputElement) document.activeElement.blur()
    begun.current = null
    go({ at, from: event.shiftKey ? cursor.from : at })
  }
  const marked = blockOf({ at: here, from: isOneCell(cursor) ? here : cursor.from })
  const mark = isOneCell(cursor) ? null : marked
  return (
    <>
      <div className="wide grid-frame">
        <table
          ref={table}
          role="grid"
          className="day-grid"
          aria-label={label}
          aria-rowcount={rows.length + 1}
          aria-colcount={columns.length + 1}
          aria-multiselectable="true"
          aria-readonly={readOnly || undefined}
          aria-describedby={`${id}-line`}
          onKeyDown={heard}
          onPaste={pasted}
          onCopy={(event) => copied(event, false)}
          onCut={(event) => copied(event, true)}
          onMouseDown={pressed}
          onDoubleClick={() => begin(cell.text, false)}
        >
          <thead role="rowgroup">
            <tr role="row" aria-rowindex={1}>
              <th role="columnheader" scope="col">
                <span className="hidden">Row</span>
              </th>
              {columns.map((head) => (
                <th
                  key={head.id}
                  role="columnheader"
                  scope="col"
                  className={`${head.numeric ? "numeric" : "words"} column-${head.id}`}
                >
                  {head.label}
                </th>
              ))}
            </tr>
          </thead>
          <tbody role="rowgroup">
            {rows.map((one, i) => {
              const isHere = i === here.row
              const isMarked = mark !== null && i >= mark.rows[0] && i <= mark.rows[1]
              return (
                <Row
                  key={one.key}
                  row={one}
                  number={i}
                  columns={columns}
                  id={id}
                  at={isHere ? here.column : -1}
                  markedFrom={isMarked ? mark.columns[0] : isHere ? here.column : -1}
                  markedTo={isMarked ? mark.columns[1] : isHere ? here.column : -2}
                  editing={isHere ? (editing?.text ?? null) : null}
                  replaces={isHere && (editing?.replaces ?? false)}
                  onKeep={onKeep}
                  onLeave={onLeave}
                />
              )
            })}
          </tbody>
        </table>
      </div>
      <p id={`${id}-line`} className="grid-line small" aria-live="polite">
        {cell.wrong !== null ? (
          <span className="wrong">{cell.wrong}</span>
        ) : cell.said !== "" ? (
          cell.said
        ) : (
          <span className="soft">{column?.help}</span>
        )}
      </p>
    </>
  )
}
