import { useEffect, useRef } from "react"
import { commands, type CommandId } from "../../../shared/commands.ts"
import { presets, type ReaderUnits } from "../../../shared/readerUnits.ts"
import type { TripPage } from "../../../shared/trips.ts"
import { keyName, useCommand } from "../../app/actions.tsx"
import { addressOf, go, type TripView } from "../../app/route.ts"
import { clockIn, dayLong, type Clock } from "../../charts/clock.ts"
import { useCall } from "../../client/useCall.ts"
import { CommandKey } from "../../parts/CommandKey.tsx"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { DaySheet } from "../day/DaySheet.tsx"
import { FishSheet } from "../day/FishSheet.tsx"
import { Head } from "../day/Head.tsx"
import { RunningLog } from "../day/RunningLog.tsx"
import { Tape } from "../day/Tape.tsx"
import { TripCard } from "../day/TripCard.tsx"
import { Conditions } from "./Conditions.tsx"
import { tripName } from "./list.ts"
import { PageStrip } from "./PageStrip.tsx"
import { StopsTable } from "./StopsTable.tsx"
import { sayPage } from "./tripWords.ts"
import { useClasses } from "./useClasses.ts"

/** A trip to read, to be typed as a sheet or a tape, to be run or printed; and its neighbours in time to leaf to. */
export function Trip({ trip, view }: { readonly trip: string; readonly view: TripView | null }) {
  const page = useCall("trips.page", { trip }, 0, view === null ? 0 : restWhileTyped)
  const units = useCall("settings.read", {}).value?.units ?? presets.metric
  const classes = useClasses()
  const { previous = null, next = null } = page.value ?? {}
  useCommand("trip.previous", leafTo(previous))
  useCommand("trip.next", leafTo(next))
  useCommand("day.read", () => go({ at: "trip", trip }))
  useCommand("day.sheet", () => go({ at: "trip", trip, view: "sheet" }))
  useCommand("day.tape", () => go({ at: "trip", trip, view: "tape" }))
  useCommand("day.fish", () => go({ at: "trip", trip, view: "fish" }))
  useCommand("day.log", () => go({ at: "trip", trip, view: "log" }))
  useCommand("day.card", () => go({ at: "trip", trip, view: "card" }))
  return (
    <>
      <nav className="row leaf small unprinted" aria-label="Trips">
        <a href={addressOf({ at: "logbook" })}>All trips</a>
        <Leaf trip={previous} command="trip.previous" />
        <Leaf trip={next} command="trip.next" />
        <span className="views">
          {views.map(({ view: one, label, id }) => (
            <a
              key={id}
              href={addressOf(one === null ? { at: "trip", trip } : { at: "trip", trip, view: one })}
              aria-current={one === view ? "page" : undefined}
            >
              {label} <CommandKey id={id} />
            </a>
          ))}
        </span>
      </nav>
      {page.problem === null ? null : <ProblemText problem={page.problem} />}
      {page.value === null || page.problem !== null || classes === null ? null : (
        <Page page={page.value} units={units} classes={classes} view={view} />
      )}
    </>
  )
}

/** How long typing rests before the strip above it is told anew, ms. */
const restWhileTyped = 700

const views = [
  { view: null, label: "Read", id: "day.read" },
  { view: "sheet", label: "Sheet", id: "day.sheet" },
  { view: "tape", label: "Tape", id: "day.tape" },
  { view: "fish", label: "Fish", id: "day.fish" },
  { view: "log", label: "Running log", id: "day.log" },
  { view: "card", label: "Card", id: "day.card" },
] as const satisfies readonly { view: TripView | null; label: string; id: CommandId }[]

const leafTo = (trip: string | null): (() => void) | null =>
  trip === null ? null : () => go({ at: "trip", trip })

function Leaf({ trip, command }: { readonly trip: string | null; readonly command: CommandId }) {
  const found = commands.find(({ id }) => id === command)
  if (trip === null || found === undefined) return null
  return (
    <a href={addressOf({ at: "trip", trip })}>
      {found.label} <kbd>{keyName(found)}</kbd>
    </a>
  )
}

function Page({
  page,
  units,
  classes,
  view,
}: {
  readonly page: TripPage
  readonly units: ReaderUnits
  readonly classes: readonly string[]
  readonly view: TripView | null
}) {
  const title = useRef<HTMLHeadingElement>(null)
  const clock = clockIn(page.zone)
  // Another trip is read from its beginning, by the eye and by a screen reader.
  useEffect(() => {
    window.scrollTo(0, 0)
    if (view === null) title.current?.focus({ preventScroll: true })
  }, [page.id, view])
  if (view === "card") return <TripCard trip={page.id} />
  return (
    <article>
      <h1 ref={title} tabIndex={-1} className="page-title">
        {dayLong(page.date)}: {tripName(page)}
      </h1>
      <p className="after">{sayPage(page, clock)}</p>
      {view === null ? null : <Head trip={page.id} />}
      {page.strip === null ? (
        <p className="soft">
          {view === null
            ? "No stint of this trip has a clock, so there is no day strip."
            : "The day strip is drawn as soon as a stint has a clock."}
        </p>
      ) : (
        <PageStrip strip={page.strip} classes={classes} units={units} />
      )}
      {view === null ? <Read page={page} clock={clock} units={units} classes={classes} /> : null}
      {view === "sheet" ? <DaySheet trip={page.id} anglers={page.anglers.length} /> : null}
      {view === "tape" ? <Tape trip={page.id} /> : null}
      {view === "fish" ? <FishSheet trip={page.id} /> : null}
      {view === "log" ? <RunningLog key={page.id} trip={page.id} date={page.date} zone={page.zone} /> : null}
    </article>
  )
}

/** What is there to read: stops and stints, notes, the day's conditions. */
function Read({
  page,
  clock,
  units,
  classes,
}: {
  readonly page: TripPage
  readonly clock: Clock
  readonly units: ReaderUnits
  readonly classes: readonly string[]
}) {
  return (
    <div className="trip-body">
      <div>
        {page.stops.length === 0 ? (
          <p>
            Nothing is logged yet.{" "}
            <a href={addressOf({ at: "trip", trip: page.id, view: "sheet" })}>Type the day</a> as a sheet, or{" "}
            <a href={addressOf({ at: "trip", trip: page.id, view: "tape" })}>as a tape</a>. A trip without
            fish is a full record.
          </p>
        ) : (
          <StopsTable page={page} clock={clock} units={units} classes={classes} />
        )}
      </div>
      <aside>
        {page.notes === null ? null : (
          <>
            <h2 className="small-heading">Notes</h2>
            <p className="notes">{page.notes}</p>
          </>
        )}
        <Conditions page={page} units={units} />
        {page.cautions.length === 0 ? null : <h2 className="small-heading">Mind</h2>}
        {page.cautions.map(({ code, text }) => (
          <p key={code}>{text}</p>
        ))}
      </aside>
    </div>
  )
}
