import { counted, figure, hoursFigure } from "../../../shared/figures.ts"
import { quantityText, type ReaderUnits } from "../../../shared/readerUnits.ts"
import type { Clock } from "../../charts/clock.ts"
import { sayConditions } from "./conditionWords.ts"
import type { PageStint } from "./outcomeCells.ts"

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
  why_changed,
}: PageStint): string {
  const effort = [
    rods === 1 ? "1 rod" : `${rods} rods`,
    effort_minutes === null ? null : `${figure(effort_minutes, 3)} min fished`,
    rod_hours === null ? "effort not known" : `${hoursFigure(rod_hours)} rod-hours`,
    effort_source,
    follows === null ? null : counted(follows, "follow"),
  ].filter((part) => part !== null)
  return `${effort.join(", ")}.${why_changed === null ? "" : ` Changed: ${why_changed}.`}`
}

/** A strike with all that is known of it: "landed: red drum, 5:03 PM, 17.1 in, on the pause, released". */
function sayStrike(strike: PageStint["fish"][number], clock: Clock, units: ReaderUnits): string {
  const { fate, species, at, length_mm, weight_g, took_on, kept } = strike
  const known = [
    species,
    at === null ? null : clock.time(at),
    length_mm === null ? null : quantityText(length_mm, "mm", units),
    weight_g === null ? null : quantityText(weight_g / 1000, "kg", units),
    took_on === null ? null : `on the ${took_on}`,
    kept === null ? null : kept ? "kept" : "released",
  ].filter((part) => part !== null)
  return known.length === 0 ? fate : `${fate}: ${known.join(", ")}`
}
