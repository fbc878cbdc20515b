import { Fragment, memo, type ReactNode } from "react"
import { Editor, type Leaving } from "./Editor.tsx"
import { noCell, type GridColumn, type GridRow } from "./types.ts"

/** One row of a grid. It is drawn again only when its cells or its state change. */
export const Row = memo(function Row({
  row,
  number,
  columns,
  at,
  markedFrom,
  markedTo,
  editing,
  replaces,
  id,
  onKeep,
  onLeave,
}: {
  readonly row: GridRow
  readonly number: number
  readonly columns: readonly GridColumn[]
  readonly at: number
  readonly markedFrom: number
  readonly markedTo: number
  /** What the cell at the cursor begins to be typed in with; null where nothing is typed. */
  readonly editing: string | null
  readonly replaces: boolean
  readonly id: string
  readonly onKeep: (text: string, leaving: Leaving) => void
  readonly onLeave: () => void
}) {
  const fresh = row.cells === null
  return (
    <>
      {row.remark === null ? null : (
        <tr className="grid-remark" role="presentation">
          <td role="presentation" colSpan={columns.length + 1}>
            {row.remark}
          </td>
        </tr>
      )}
      <tr role="row" aria-rowindex={number + 2} data-fresh={fresh || undefined}>
        <th scope="row" role="rowheader">
          {fresh ? <span className="hidden">new row</span> : number + 1}
        </th>
        {columns.map((column, i) => {
          const cell = row.cells?.[column.id] ?? noCell
          const label = `${column.label}, row ${number + 1}`
          const focused = i === at
          return (
            <td
              key={column.id}
              id={`${id}-${number}-${i}`}
              role="gridcell"
              aria-colindex={i + 2}
              tabIndex={focused ? 0 : -1}
              aria-selected={i >= markedFrom && i <= markedTo}
              aria-invalid={cell.wrong === null ? undefined : true}
              aria-description={descriptionOf(cell)}
              data-row={number}
              data-column={i}
              className={`${column.numeric ? "numeric" : "words"} cell-${column.id}`}
            >
              {focused && editing !== null ? (
                <Editor
                  column={column}
                  label={label}
                  text={editing}
                  replaces={replaces}
                  wrong={cell.wrong}
                  onKeep={onKeep}
                  onLeave={onLeave}
                />
              ) : (
                <>
                  {cell.text === "" && cell.carried !== null ? (
                    <span className="carried">{cell.carried}</span>
                  ) : (
                    breakable(cell.text)
                  )}
                  {cell.wrong === null ? null : <span className="cell-wrong">{cell.wrong}</span>}
                </>
              )}
            </td>
          )
        })}
      </tr>
    </>
  )
})

const descriptionOf = ({ said, wrong, text }: { said: string; wrong: string | null; text: string }) =>
  wrong ?? (said === "" || said === text ? undefined : said)

/** A text that may go on in the next line after its own signs, and nowhere inside a word. */
const breakable = (text: string): ReactNode =>
  text.length < 12
    ? text
    : text.split(/(?<=[/,=])/).map((piece, i) => (
        <Fragment key={i}>
          {i === 0 ? null : <wbr />}
          {piece}
        </Fragment>
      ))
