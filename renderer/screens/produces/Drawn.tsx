import { useMemo } from "react"
import type { Figure } from "../../charts/figure.ts"
import { LazyChart } from "../../charts/LazyChart.tsx"
import { Fold } from "../../parts/Fold.tsx"
import { Table } from "../../parts/Table.tsx"

const widthOfWords = 800

/** A figure with its title, and its numbers as a table behind a fold. */
export function Drawn({
  figureAt,
  height,
}: {
  readonly figureAt: (width: number) => Figure
  readonly height: string
}) {
  const { title, table } = useMemo(() => figureAt(widthOfWords), [figureAt])
  return (
    <div className="figure">
      <h3>{title}</h3>
      <LazyChart figureAt={figureAt} height={height} />
      <AsTable title={title} table={table} />
    </div>
  )
}

/** The numbers a chart is drawn from, folded beneath it. */
export const AsTable = ({ title, table }: Pick<Figure, "title" | "table">) => (
  <Fold title="The numbers as a table" unprinted>
    <Table caption={title} {...table} />
  </Fold>
)
