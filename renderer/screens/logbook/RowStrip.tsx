import { useCallback } from "react"
import type { ReaderUnits } from "../../../shared/readerUnits.ts"
import type { DayStrip } from "../../../shared/trips.ts"
import { dayStrip } from "../../charts/dayStrip.ts"
import { useInk } from "../../charts/ink.ts"
import { LazyChart } from "../../charts/LazyChart.tsx"
import { useStrip } from "./strips.ts"
import { useNow, within } from "./useNow.ts"
import { useTurn } from "./useTurn.ts"

type Look = { readonly classes: readonly string[]; readonly units: ReaderUnits }

/** A trip's day strip in a row of the list, drawn once the row is in sight and the window at leisure. */
export function RowStrip({ trip, ...look }: Look & { readonly trip: string }) {
  const strip = useStrip(trip)
  const mine = useTurn()
  if (strip === null) return <span className="soft small">no clock times</span>
  return strip === undefined || !mine ? null : <Drawn strip={strip} {...look} />
}

function Drawn({ strip, classes, units }: Look & { readonly strip: DayStrip }) {
  const ink = useInk()
  const now = within(useNow(), strip)
  const figureAt = useCallback(
    (width: number) => dayStrip(strip, { size: "row", width, classes, units, ink, now }),
    [strip, classes, units, ink.ink, ink.size, now],
  )
  return <LazyChart figureAt={figureAt} height="1.7625rem" />
}
