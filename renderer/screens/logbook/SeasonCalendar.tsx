import { useMemo } from "react"
import { ListBox, ListBoxItem } from "react-aria-components"
import type { TripListed } from "../../../shared/trips.ts"
import { monthNames } from "../../charts/clock.ts"
import { Choice } from "../../parts/Choice.tsx"
import { saySeason, seasonDays, yearsOf, type SeasonDay } from "./season.ts"

const least = 0.28
const most = 0.72
const lines = [1, 5, 10, 15, 20, 25, 30]

/** A year as a grid, months across and days down: a mark for each day with trips, larger for more fish. A day chosen narrows the list. */
export function SeasonCalendar({
  all,
  trips,
  year,
  day,
  onYear,
  onDay,
}: {
  /** Every trip of the logbook, for the years to choose from. */
  readonly all: readonly TripListed[]
  readonly trips: readonly TripListed[]
  readonly year: string
  readonly day: string
  readonly onYear: (year: string) => void
  readonly onDay: (day: string) => void
}) {
  const years = useMemo(() => yearsOf(all), [all])
  const days = useMemo(() => seasonDays(trips, year), [trips, year])
  const top = Math.max(1, ...days.map(({ landed }) => landed ?? 0))
  return (
    <section aria-label="Season">
      <h3>
        The year{" "}
        <Choice
          label="Year"
          sections={[{ title: "", options: years.map((one) => ({ id: one, label: one })) }]}
          value={year}
          onChange={onYear}
        />
      </h3>
      <div className="season">
        <div className="season-days" aria-hidden="true">
          {monthNames("narrow").map((name, month) => (
            <span key={month} className="soft" style={{ gridRow: 1, gridColumn: month + 2 }}>
              {name}
            </span>
          ))}
          {lines.map((line) => (
            <span key={line} className="soft line" style={{ gridRow: line + 1 }}>
              {line}
            </span>
          ))}
        </div>
        <ListBox
          className="season-days"
          aria-label={`Days of ${year} with trips`}
          items={days}
          selectionMode="single"
          selectionBehavior="toggle"
          selectedKeys={day === "" ? [] : [day]}
          onSelectionChange={(keys) => onDay(keys === "all" ? "" : String([...keys][0] ?? ""))}
        >
          {(one) => (
            <ListBoxItem
              id={one.date}
              textValue={one.said}
              aria-label={one.said}
              style={{ gridRow: one.day + 1, gridColumn: one.month + 1 }}
            >
              <Mark day={one} most={top} />
            </ListBoxItem>
          )}
        </ListBox>
      </div>
      <p className="small soft">
        Dot: a day with fish, larger for more. Ring: blank. Dash: not counted, or planned.
      </p>
      <p className="small">{saySeason(trips, year)}</p>
    </section>
  )
}

/** Area goes with the fish, so that four times the fish look four times as much. */
function Mark({ day: { mark, landed }, most: top }: { readonly day: SeasonDay; readonly most: number }) {
  const across = mark === "fish" ? least + (most - least) * Math.sqrt((landed ?? 0) / top) : 0.5
  const shape = mark === "planned" ? "unknown" : mark
  return <span className={`mark-${shape}`} style={{ width: `${across}rem` }} />
}
