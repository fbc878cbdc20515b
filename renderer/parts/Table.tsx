/** A plain table of words and figures; the first column names the row. */
export function Table({
  caption,
  head,
  rows,
  note = null,
}: {
  readonly caption: string
  readonly head: readonly string[]
  readonly rows: readonly (readonly string[])[]
  readonly note?: string | null
}) {
  return (
    <div className="wide" role="region" aria-label={caption} tabIndex={0}>
      <table>
        <caption>{caption}</caption>
        <thead>
          <tr>
            {head.map((title, i) => (
              <th key={i} scope="col">
                {title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row, i) => (
            <tr key={i}>
              {row.map((cell, j) =>
                j === 0 ? (
                  <th key={j} scope="row" className="name">
                    {cell}
                  </th>
                ) : (
                  <td key={j}>{cell}</td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
      {note === null ? null : <p className="soft small">{note}</p>}
    </div>
  )
}
