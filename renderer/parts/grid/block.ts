/**
 * Cells as spreadsheets pass them on: a tab between cells, a line a row; cells that hold either, or a quotation mark, in
 * quotation marks, doubled inside.
 */
export const blockText = (rows: readonly (readonly string[])[]): string =>
  rows.map((row) => row.map(quoted).join("\t")).join("\n")

const quoted = (cell: string): string => (/[\t\n"]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell)

/** The cells of such a text; the empty line that spreadsheets end it with is none. */
export function blockIn(text: string): string[][] {
  const rows: string[][] = [[]]
  let cell = ""
  let quotes = false
  const end = (): void => {
    rows.at(-1)?.push(cell)
    cell = ""
  }
  const plain = text.replaceAll("\r\n", "\n").replaceAll("\r", "\n").replace(/\n$/, "")
  for (let i = 0; i < plain.length; i++) {
    const letter = plain[i] ?? ""
    if (quotes) {
      if (letter !== '"') cell += letter
      else if (plain[i + 1] === '"') {
        cell += '"'
        i++
      } else quotes = false
    } else if (letter === '"' && cell === "") quotes = true
    else if (letter === "\t") end()
    else if (letter === "\n") {
      end()
      rows.push([])
    } else cell += letter
  }
  end()
  return rows
}
