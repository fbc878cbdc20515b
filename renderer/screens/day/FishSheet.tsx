import { useMemo } from "react"
import { fishColumns, type FishColumn, type FishList } from "../../../shared/fishList.ts"
import { addressOf } from "../../app/route.ts"
import { useCall } from "../../client/useCall.ts"
import { Grid } from "../../parts/grid/Grid.tsx"
import { Problems } from "../../parts/ProblemText.tsx"
import { Wrong } from "../../parts/Wrong.tsx"
import { fishColumnsFor } from "./fishColumns.ts"
import { type SheetOf, useTypedSheet } from "./useTypedSheet.ts"

const fishSheet: SheetOf<FishColumn, FishList> = {
  columns: fishColumns,
  read: async (client, trip) => client.call("fish.cells", { trip }),
  edit: async (client, acts) => client.call("fish.edit", acts),
  remarkBefore: () => null,
  staysInPlace: true,
}

/** All strikes of a trip as a list to type in. */
export function FishSheet({ trip }: { readonly trip: string }) {
  const codes = useCall("codes.list", {}).value
  const { sheet, rows, acts, problem, told, saving } = useTypedSheet(trip, fishSheet)
  const stints = sheet?.stints
  const columns = useMemo(() => fishColumnsFor(codes ?? [], stints ?? []), [codes, stints])
  if (sheet === null || codes === null) return <Problems of={[problem]} />
  if (sheet.stints.length === 0)
    return (
      <p>
        A fish belongs to a stint, and this day has none yet.{" "}
        <a href={addressOf({ at: "trip", trip, view: "sheet" })}>Type the stints as a sheet</a>, or{" "}
        <a href={addressOf({ at: "trip", trip, view: "tape" })}>as a tape</a>; fish can be typed there too.
      </p>
    )
  return (
    <section aria-label="Fish and other strikes">
      <Grid label="Strikes of the trip" columns={columns} rows={rows} acts={acts} />
      <p className="small" role="status">
        {tally(sheet)} {saving ? "Saving." : "Saved."}
      </p>
      <Problems of={[problem]} />
      {told.map((sentence) => (
        <Wrong key={sentence} sentence={sentence} />
      ))}
      {sheet.limits.map((sentence) => (
        <p key={sentence} className="small">
          {sentence}
        </p>
      ))}
      <p className="soft small">
        A new row at the end goes to the stint its time falls in, or the one you name. Without a fate a fish
        was landed. Weights marked est. are estimated from fish you weighed; type over them what the scale
        says. Type to replace, Enter or F2 to edit, Ctrl D fills down, Ctrl Delete removes rows; Escape, then
        Tab, leaves the list.
      </p>
    </section>
  )
}

function tally({ rows }: FishList): string {
  const landed = rows.filter(({ cells }) => cells.fate.text === "landed").length
  return rows.length === 0
    ? "No strike is noted. A trip without one is a full record."
    : `${rows.length} ${rows.length === 1 ? "strike" : "strikes"}, ${landed} landed.`
}
