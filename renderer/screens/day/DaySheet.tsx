import { useMemo } from "react"
import { Button } from "react-aria-components"
import type { Output } from "../../../shared/api.ts"
import { useCommand } from "../../app/actions.tsx"
import { addressOf } from "../../app/route.ts"
import { useCall } from "../../client/useCall.ts"
import { Grid } from "../../parts/grid/Grid.tsx"
import { Problems } from "../../parts/ProblemText.tsx"
import { CommandKey } from "../../parts/CommandKey.tsx"
import { columnsFor } from "./columns.ts"
import { DayTally } from "./DayTally.tsx"
import { useSheet } from "./useSheet.ts"
import { Wrong } from "../../parts/Wrong.tsx"

/** The day's stints as a sheet to type in. */
export function DaySheet({ trip, anglers }: { readonly trip: string; readonly anglers: number }) {
  const codes = useCall("codes.list", {}).value
  const { sheet, rows, acts, mend, problem, told, saving } = useSheet(trip)
  const who = new Set(sheet?.rows.map(({ cells }) => cells.who.text))
  const lanes = anglers > 1 || who.size > 1
  const columns = useMemo(() => columnsFor(codes ?? [], lanes), [codes, lanes])
  const first = sheet?.times[0]
  useCommand("sheet.mend", first === undefined ? null : () => mend(first.row))
  if (sheet === null || codes === null) return <Problems of={[problem]} />
  return (
    <section aria-label="Day sheet">
      <Grid
        label="Stints of the day"
        columns={columns}
        rows={rows}
        acts={acts}
        start={columns.findIndex(({ id }) => id === "start")}
      />
      <DayTally totals={sheet.totals} saving={saving} />
      {first === undefined ? null : (
        <Mend time={first} count={sheet.times.length} onMend={() => mend(first.row)} />
      )}
      {sheet.lines.map(({ position, text, unclear }) => (
        <p key={`${position} ${text}`} className="wrong">
          A line of the tape cannot be read yet: {text}. {unclear?.sentence}{" "}
          <a href={addressOf({ at: "trip", trip, view: "tape" })}>Mend it on the tape</a>
        </p>
      ))}
      <Problems of={[problem]} />
      {told.map((sentence) => (
        <Wrong key={sentence} sentence={sentence} />
      ))}
      <p className="soft small">
        <a href={addressOf({ at: "tape-help" })}>How a day is typed</a>. Type to replace, Enter or F2 to edit,
        Tab to go on, Enter to begin the next row. Shift marks a block: Ctrl C and Ctrl V pass it to and from
        a spreadsheet, Ctrl D fills down, Ctrl Enter puts one text into all of it, Delete empties it, Ctrl
        Delete removes its rows. Escape, then Tab, leaves the sheet.
      </p>
    </section>
  )
}

function Mend({
  time,
  count,
  onMend,
}: {
  readonly time: Output<"day.cells">["times"][number]
  readonly count: number
  readonly onMend: () => void
}) {
  const [fix] = time.fixes
  return (
    <p className="row small">
      <span>
        {time.sentence}
        {count > 1 ? ` And ${count - 1} more.` : ""}
      </span>
      {fix === undefined ? null : (
        <Button onPress={onMend}>
          {fix.label} <CommandKey id="sheet.mend" />
        </Button>
      )}
    </p>
  )
}
