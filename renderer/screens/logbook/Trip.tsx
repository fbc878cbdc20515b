import { useEffect, useRef } from "react"
import { commands, type CommandId } from "../../../shared/commands.ts"
import { presets, type ReaderUnits } from "../../../shared/readerUnits.ts"
import type { TripPage } from "../../../shared/trips.ts"
import { keyName, useCommand } from "../../app/actions.tsx"
import { addressOf, go } from "../../app/route.ts"
import { clockIn, dayLong } from "../../charts/clock.ts"
import { useCall } from "../../client/useCall.ts"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { Conditions } from "./Conditions.tsx"
import { tripName } from "./list.ts"
import { PageStrip } from "./PageStrip.tsx"
import { StopsTable } from "./StopsTable.tsx"
import { sayPage } from "./tripWords.ts"
import { useClasses } from "./useClasses.ts"

/** A trip to read, and its neighbours in time to leaf to. */
export function Trip({ trip }: { readonly trip: string }) {
  const page = useCall("trips.page", { trip })
  const units = useCall("settings.read", {}).value?.units ?? presets.metric
  const classes = useClasses()
  const { previous = null, next = null } = page.value ?? {}
  useCommand("trip.previous", leafTo(previous))
  useCommand("trip.next", leafTo(next))
  return (
    <>
      <nav className="row leaf small unprinted" aria-label="Trips">
        <a href={addressOf({ at: "logbook" })}>All trips</a>
        <Leaf trip={previous} command="trip.previous" />
        <Leaf trip={next} command="trip.next" />
      </nav>
      {page.problem === null ? null : <ProblemText problem={page.problem} />}
      {page.value === null || page.problem !== null || classes === null ? null : (
        <Page page={page.value} units={units} classes={classes} />
      )}
    </>
  )
}

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
}: {
  readonly page: TripPage
  readonly units: ReaderUnits
  readonly classes: readonly string[]
}) {
  const title = useRef<HTMLHeadingElement>(null)
  const clock = clockIn(page.zone)
  // Another trip is read from its beginning, by the eye and by a screen reader.
  useEffect(() => {
    window.scrollTo(0, 0)
    title.current?.focus({ preventScroll: true })
  }, [page.id])
  return (
    <article>
      <h1 ref={title} tabIndex={-1} className="page-title">
        {dayLong(page.date)}: {tripName(page)}
      </h1>
      <p className="after">{sayPage(page, clock)}</p>
      {page.strip === null ? (
        <p className="soft">No stint of this trip has a clock, so there is no day strip.</p>
      ) : (
        <PageStrip strip={page.strip} classes={classes} units={units} />
      )}
      <div className="trip-body">
        <div>
          {page.stops.length === 0 ? null : (
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
    </article>
  )
}
