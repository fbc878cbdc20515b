import { useDeferredValue, useEffect, useMemo, useRef, useState } from "react"
import { Button, Input, Label, SearchField } from "react-aria-components"
import { counted } from "../../../shared/figures.ts"
import { presets } from "../../../shared/readerUnits.ts"
import type { TripListed } from "../../../shared/trips.ts"
import { useCommand } from "../../app/actions.tsx"
import { addressOf } from "../../app/route.ts"
import { dayLong } from "../../charts/clock.ts"
import { useCall } from "../../client/useCall.ts"
import { Choice } from "../../parts/Choice.tsx"
import { CommandKey } from "../../parts/CommandKey.tsx"
import { Fold } from "../../parts/Fold.tsx"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { found, inOrder, isBlank, isOrder, orders } from "./list.ts"
import { NewTrip, type NewTripHandle } from "./NewTrip.tsx"
import { SeasonCalendar } from "./SeasonCalendar.tsx"
import { SeasonQuestion } from "./SeasonQuestion.tsx"
import { latestYear, yearsOf } from "./season.ts"
import { StripLegend, TideCaution } from "./StripLegend.tsx"
import { StripsContext, useStrips } from "./strips.ts"
import { TripList } from "./TripList.tsx"
import { useClasses } from "./useClasses.ts"
import { kept, wholeList, type ListView } from "./view.ts"

const orderSections = [{ title: "", options: orders.map(({ id, label }) => ({ id, label })) }]
const calendarOpenFrom = "(min-width: 56rem)"

/** The logbook: every trip with its day strip, searched, sorted, and seen as a year. */
export function Logbook() {
  const trips = useCall("trips.list", {})
  if (trips.problem !== null) return <ProblemText problem={trips.problem} />
  if (trips.value === null) return <h1 className="hidden">Logbook</h1>
  return trips.value.length === 0 ? <NoTrips /> : <Trips trips={trips.value} />
}

/** The line of a new trip, begun by its command. */
function BeginTrip() {
  const line = useRef<NewTripHandle>(null)
  useCommand("trip.new", () => line.current?.begin())
  return <NewTrip ref={line} />
}

const NoTrips = () => (
  <article className="text">
    <h1>No trips yet</h1>
    <BeginTrip />
    <p>
      <a href={addressOf({ at: "tape-help" })}>How a day is typed</a> <CommandKey id="go.tape_help" /> tells
      all of it on one page. The first time:
    </p>
    <ol>
      <li>
        Choose your home zone under <a href={addressOf({ at: "settings" })}>Settings</a>{" "}
        <CommandKey id="go.settings" />; until then clocks are those of UTC.
      </li>
      <li>
        Name your <a href={addressOf({ at: "spots" })}>spots</a> <CommandKey id="go.spots" />, what you fish (
        <a href={addressOf({ at: "tackle" })}>tackle</a> <CommandKey id="go.tackle" />
        ), and your <a href={addressOf({ at: "roster" })}>species and anglers</a>{" "}
        <CommandKey id="go.roster" />. Each gets a short code; the day is typed in codes.
      </li>
      <li>
        Back here, begin the trip: today&apos;s or yesterday&apos;s with one key, any other in the line above,
        by its day, start, spot, anglers and target, in any order.
      </li>
    </ol>
    <p>
      Or bring in a table of what you fished, from a spreadsheet or another program: it is shown before
      anything is kept, and can be taken back whole. Or look at the sample logbook first. Both are under{" "}
      <a href={addressOf({ at: "files" })}>Files</a>.
    </p>
  </article>
)

function Trips({ trips }: { readonly trips: readonly TripListed[] }) {
  const [view, setView] = useState(kept.view)
  const change = (part: Partial<ListView>) => setView((before) => ({ ...before, ...part }))
  useEffect(() => void (kept.view = view), [view])
  const search = useDeferredValue(view.search)
  const sought = useFound(search)
  const matching = useMemo(
    () => (sought === null ? found(trips, search) : trips.filter(({ id }) => sought.ids.has(id))),
    [trips, search, sought],
  )
  const shown = useMemo(
    () => inOrder(matching, view.order).filter(({ date }) => view.day === "" || date === view.day),
    [matching, view.order, view.day],
  )
  const units = useCall("settings.read", {}).value?.units ?? presets.metric
  const classes = useClasses()
  const strips = useStrips()
  const list = useRef<HTMLDivElement>(null)
  const year = yearsOf(trips).includes(view.year) ? view.year : latestYear(trips)
  return (
    <StripsContext value={strips}>
      {/* One element for all of it: what stands above the list may not go before the list has kept its place. */}
      <div>
        <h1 className="hidden">Logbook</h1>
        <BeginTrip />
        <SeasonQuestion />
        <div className="logbook-head">
          <p className="question">
            {tally(shown, trips)},{" "}
            <Choice
              label="Order"
              sections={orderSections}
              value={view.order}
              onChange={(id) => {
                if (isOrder(id)) change({ order: id })
              }}
            />
            .
          </p>
          <Search value={view.search} onChange={(typed) => change({ search: typed })} list={list} />
        </div>
        <p className="hidden" aria-live="polite">
          {shown.length === trips.length ? "" : `${shown.length} of ${counted(trips.length, "trip")} shown`}
        </p>
        {view.day === "" && view.search === "" ? null : (
          <p className="row small">
            <span>
              Narrowed to {narrowing(view)}
              {sought === null || sought.said === "" ? "" : `: ${sought.said}`}.
            </span>
            <Button onPress={() => change({ search: wholeList.search, day: wholeList.day })}>
              Show all trips
            </Button>
          </p>
        )}
        <TideCaution />
        <div className="beside logbook-body">
          <aside>
            <Fold title="Season calendar" level={2} small unfolded={matchMedia(calendarOpenFrom).matches}>
              <SeasonCalendar
                all={trips}
                trips={matching}
                year={year}
                day={view.day}
                onYear={(chosen) => change({ year: chosen })}
                onDay={(day) => change({ day })}
              />
              <h3>The strips</h3>
              <p className="small soft">
                Shaded: night and twilight. Line: the tide. Bars: stints, in lanes where they overlap.
              </p>
              {classes === null ? null : <StripLegend classes={classes} shown={classes} untimed={false} />}
            </Fold>
          </aside>
          {shown.length === 0 ? (
            <p>
              No trip has all of this in one stint. Conditions can be words or numbers (stained, spoon, water
              under 60, wind over 5, depth 3 to 6 ft, more than 5 fish, blank for a trip, blank stint); any
              other word is looked for in spots, anglers, targets, labels, notes and dates.
            </p>
          ) : (
            <TripList trips={shown} classes={classes} units={units} list={list} />
          )}
        </div>
      </div>
    </StripsContext>
  )
}

/** What the logbook finds by words and conditions; null while it looks, when words alone are searched. */
function useFound(search: string): { readonly ids: ReadonlySet<string>; readonly said: string } | null {
  const { value, asking, problem } = useCall("trips.find", search.trim() === "" ? null : { text: search })
  return useMemo(
    () =>
      search.trim() === "" || value === null || asking || problem !== null
        ? null
        : { ids: new Set(value.trips), said: value.said },
    [search, value, asking, problem],
  )
}

function tally(shown: readonly TripListed[], all: readonly TripListed[]): string {
  const blank = shown.filter(isBlank).length
  const trips =
    shown.length === all.length ? counted(all.length, "trip") : `${shown.length} of ${all.length} trips`
  return blank === 0 ? trips : `${trips}, ${blank} blank`
}

const narrowing = ({ search, day }: ListView): string =>
  [search === "" ? null : `“${search}”`, day === "" ? null : dayLong(day)]
    .filter((part) => part !== null)
    .join(" and ")

function Search({
  value,
  onChange,
  list,
}: {
  readonly value: string
  readonly onChange: (typed: string) => void
  readonly list: { readonly current: HTMLDivElement | null }
}) {
  const input = useRef<HTMLInputElement>(null)
  useCommand("trips.search", () => {
    input.current?.focus()
    input.current?.select()
  })
  return (
    <SearchField className="search" value={value} onChange={onChange} onSubmit={() => list.current?.focus()}>
      <Label className="hidden">Search the trips</Label>
      <Input ref={input} placeholder="topwater before sunrise, blank" />
      <kbd aria-hidden="true">/</kbd>
    </SearchField>
  )
}
