import { useMemo } from "react"
import { Button, Disclosure, DisclosurePanel, Heading } from "react-aria-components"
import type { Figure } from "../../charts/figure.ts"
import { LazyChart } from "../../charts/LazyChart.tsx"
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
      <Disclosure className="fold unprinted">
        <Heading level={3}>
          <Button slot="trigger">The numbers as a table</Button>
        </Heading>
        <DisclosurePanel>
          <Table caption={title} {...table} />
        </DisclosurePanel>
      </Disclosure>
    </div>
  )
}
