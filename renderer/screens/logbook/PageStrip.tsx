import { useCallback, useMemo } from "react"
import type { ReaderUnits } from "../../../shared/readerUnits.ts"
import type { DayStrip } from "../../../shared/trips.ts"
import { dayStrip } from "../../charts/dayStrip.ts"
import { useInk } from "../../charts/ink.ts"
import { LazyChart } from "../../charts/LazyChart.tsx"
import { Fold } from "../../parts/Fold.tsx"
import { Table } from "../../parts/Table.tsx"
import { StripLegend, TideCaution } from "./StripLegend.tsx"
import { useNow, within } from "./useNow.ts"

const widthOfWords = 800

/** The day strip at the head of a trip, with its legend, and the same day in words and as a table. */
export function PageStrip({
  strip,
  classes,
  units,
}: {
  readonly strip: DayStrip
  readonly classes: readonly string[]
  readonly units: ReaderUnits
}) {
  const ink = useInk()
  const now = within(useNow(), strip)
  const figureAt = useCallback(
    (width: number) => dayStrip(strip, { size: "page", width, classes, units, ink, now }),
    [strip, classes, units, ink.ink, ink.size, now],
  )
  const { title, said, table } = useMemo(() => figureAt(widthOfWords), [figureAt])
  const shown = new Set(strip.stints.map(({ lure_class }) => lure_class))
  return (
    <>
      <div className="page-strip">
        <LazyChart figureAt={figureAt} height="11rem" />
      </div>
      <div className="strip-foot">
        {strip.tide === null ? null : <TideCaution />}
        <StripLegend
          classes={classes}
          shown={[...classes.filter((name) => shown.has(name)), ...(shown.has(null) ? [null] : [])]}
          untimed={strip.fish.some(({ known }) => !known)}
        />
      </div>
      <Fold title="The day in words" level={2} small unprinted>
        <p className="said-day">{said}</p>
        <div className="day-table">
          <Table caption={title} {...table} />
        </div>
      </Fold>
    </>
  )
}
