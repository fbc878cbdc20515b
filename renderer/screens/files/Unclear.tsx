import type { Problem } from "../../../shared/problems.ts"
import { ProblemText } from "../../parts/ProblemText.tsx"
import type { Mapping } from "./Imports.tsx"
import { ReadAs } from "./ReadAs.tsx"

/** The columns that a problem asks about; none where it is about something else. */
export function columnsOf(problem: Problem | null): readonly string[] {
  const columns: unknown = problem?.details["columns"]
  return Array.isArray(columns) ? columns.filter((name) => typeof name === "string") : []
}

/** A table that cannot be read before its user says what some columns are: the sentence, and a choice for each. */
export function Unclear({
  problem,
  columns,
  mapping,
  onMap,
}: {
  readonly problem: Problem
  readonly columns: readonly string[]
  readonly mapping: Mapping
  readonly onMap: (mapping: Mapping) => void
}) {
  return (
    <section aria-label="Columns to choose">
      <ProblemText problem={problem} />
      <table className="text">
        <caption>Say here what they are; it is kept for the next such table.</caption>
        <tbody>
          {columns.map((column) => (
            <tr key={column}>
              <th scope="row" className="name">
                {column}
              </th>
              <td className="words">
                <ReadAs column={column} mapping={mapping} onMap={onMap} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
