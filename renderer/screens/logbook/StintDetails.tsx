import { counted, figure, hoursFigure } from "../../../shared/figures.ts"
import type { ReaderUnits } from "../../../shared/readerUnits.ts"
import type { Clock } from "../../charts/clock.ts"
import { sayConditions } from "./conditionWords.ts"
import type { PageStint } from "./outcomeCells.ts"
import { sayStrike } from "./strikeWords.ts"

/** What unfolds under a stint: its effort, its strikes one by one, its conditions with their sources, its notes. */
export function StintDetails({
  stint,
  clock,
  units,
}: {
  readonly stint: PageStint
  readonly clock: Clock
  readonly units: ReaderUnits
}) {
  const conditions = sayConditions(stint.conditions, units)
  return (
    <div className="details">
      <p>{effortOf(stint)}</p>
      {stint.fish.length === 0 ? null : (
        <ol className="strikes">
          {stint.fish.map((strike) => (
            <li key={strike.id}>{sayStrike(strike, clock, units)}</li>
          ))}
        </ol>
      )}
      {conditions.length === 0 ? (
        <p className="soft">No conditions are known for this stint.</p>
      ) : (
        <ul className="conditions">
          {conditions.map(({ label, value, source }) => (
            <li key={label}>
              {label} {value}, <span className="soft">{source}</span>
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}

function effortOf({
  effort_minutes,
  effort_source,
  rods,
  rod_hours,
  follows,
  lures_lost,
  why_changed,
}: PageStint): string {
  const effort = [
    rods === 1 ? "1 rod" : `${rods} rods`,
    effort_minutes === null ? null : `${figure(effort_minutes, 3)} min fished`,
    rod_hours === null ? "effort not known" : `${hoursFigure(rod_hours)} rod-hours`,
    effort_source,
    follows === null ? null : counted(follows, "follow"),
    lures_lost === null || lures_lost === 0 ? null : counted(lures_lost, "lure lost", "lures lost"),
  ].filter((part) => part !== null)
  return `${effort.join(", ")}.${why_changed === null ? "" : ` Changed: ${why_changed}.`}`
}
