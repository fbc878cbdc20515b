import type { DayTotals } from "../../../shared/day.ts"
import { counted, hoursFigure } from "../../../shared/figures.ts"

/** What the day comes to so far, and whether it is on disk. */
export function DayTally({ totals, saving }: { readonly totals: DayTotals; readonly saving: boolean }) {
  const { stints, rod_hours, landed, strikes } = totals
  const parts = [
    counted(stints, "stint"),
    rod_hours === null ? "rod-hours not known" : `${hoursFigure(rod_hours)} rod-hours`,
    landed === null ? null : `${landed} landed`,
    strikes === null ? null : counted(strikes, "strike"),
  ].filter((part) => part !== null)
  return (
    <p className="small soft">
      {parts.join(", ")}. {saving ? "Saving." : "Saved."}
    </p>
  )
}
