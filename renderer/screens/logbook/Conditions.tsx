import type { ReaderUnits } from "../../../shared/readerUnits.ts"
import type { TripPage } from "../../../shared/trips.ts"
import { sayDayConditions, type DayCondition } from "./conditionWords.ts"

/** The day's conditions over all stints, and where they come from. */
export function Conditions({ page, units }: { readonly page: TripPage; readonly units: ReaderUnits }) {
  const { observed, workedOut } = sayDayConditions(page, units)
  const all = page.stops.reduce((sum, { stints }) => sum + stints.length, 0)
  return (
    <>
      {observed.length === 0 ? null : (
        <>
          <h2 className="small-heading">Seen and measured</h2>
          <Lines lines={observed} all={all} usual={null} />
        </>
      )}
      {workedOut.length === 0 ? null : (
        <>
          <h2 className="small-heading">Worked out from place and time</h2>
          <Lines lines={workedOut} all={all} usual="worked out" />
          {page.strip?.tide == null ? null : (
            <p className="soft small">The strip&rsquo;s tide is predicted at {page.strip.tide.station}.</p>
          )}
        </>
      )}
    </>
  )
}

/** `usual`: the source that the heading names already. */
function Lines({
  lines,
  all,
  usual,
}: {
  readonly lines: readonly DayCondition[]
  readonly all: number
  readonly usual: string | null
}) {
  return (
    <dl className="over-day">
      {lines.map(({ label, value, source, of }) => {
        const more = [source === usual ? null : source, of === all ? null : `${of} of ${all} stints`]
          .filter((part) => part !== null)
          .join("; ")
        return (
          <div key={label}>
            <dt>{label}</dt>
            <dd>{value}</dd>
            {more === "" ? null : <dd className="soft from">{more}</dd>}
          </div>
        )
      })}
    </dl>
  )
}
