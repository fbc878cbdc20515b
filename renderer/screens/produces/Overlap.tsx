import type { Answer } from "../../../shared/answer.ts"
import { isFactorId } from "../../../shared/factors.ts"
import { counted, hoursFigure, levelNames, namesIn } from "../../../shared/figures.ts"
import { perHour } from "../../../shared/outcomes.ts"
import type { ReaderUnits } from "../../../shared/readerUnits.ts"
import { Fold } from "../../parts/Fold.tsx"
import { Table } from "../../parts/Table.tsx"

const rowsOnTop = 6

/** How much of each of the two was fished at each level of what is held alike: where the two do not meet stands first. */
export function Overlap({ answer, units }: { readonly answer: Answer; readonly units: ReaderUnits }) {
  const { overlap } = answer
  if (overlap === null) return null
  const nameOf = namesIn(answer, units)
  const amount = perHour(answer.outcome) ? hoursFigure : String
  const rows = overlap.rows.map(({ factor, name, level, a, b }) => [
    `${name}: ${level === null ? "not known" : isFactorId(factor) ? levelNames(factor, [level], units)(level) : level}`,
    amount(a),
    amount(b),
  ])
  const head = ["Held alike", nameOf(overlap.a), nameOf(overlap.b)]
  const caption = `Where the two were fished, in ${perHour(answer.outcome) ? "rod-hours" : "stints"}, biggest mismatch first`
  return (
    <Fold title="Where the two met, and where not" unprinted>
      <Table caption={caption} head={head} rows={rows.slice(0, rowsOnTop)} />
      {rows.length <= rowsOnTop ? null : (
        <Fold title={counted(rows.length - rowsOnTop, "more row")} level={4} unprinted>
          <Table caption={`${caption}: the others`} head={head} rows={rows.slice(rowsOnTop)} />
        </Fold>
      )}
    </Fold>
  )
}
