import { useEffect, useLayoutEffect, useMemo, useRef, useState, type RefObject } from "react"
import { GridList, GridListItem, ListLayout, Virtualizer } from "react-aria-components"
import { hoursFigure } from "../../../shared/figures.ts"
import type { ReaderUnits } from "../../../shared/readerUnits.ts"
import type { TripListed } from "../../../shared/trips.ts"
import { go } from "../../app/route.ts"
import { dayShort } from "../../charts/clock.ts"
import { useInk } from "../../charts/ink.ts"
import { fishOf, rateFigure, sayTrip, tripName, tripParty } from "./list.ts"
import { RowStrip } from "./RowStrip.tsx"
import { kept } from "./view.ts"

const wideFrom = 40
const wideRow = 3.5
const narrowRow = 6.6

/** The trips as rows of an almanac: day, where and who, the day strip, and the tally. Arrows move, Enter opens. */
export function TripList({
  trips,
  classes,
  units,
  list,
}: {
  readonly trips: readonly TripListed[]
  /** Null until they are known; strips wait for them. */
  readonly classes: readonly string[] | null
  readonly units: ReaderUnits
  readonly list: RefObject<HTMLDivElement | null>
}) {
  const { size } = useInk()
  const place = useRef<HTMLDivElement>(null)
  const width = useWidth(place)
  const wide = width >= wideFrom * size
  const rowSize = Math.round((wide ? wideRow : narrowRow) * size)
  const layoutOptions = useMemo(() => ({ rowSize }), [rowSize])
  useKeptPlace(list, width > 0)
  return (
    <div ref={place} className="trips" data-wide={wide || undefined}>
      <div className="trip-row trip-head" aria-hidden="true">
        <span className="day">Day</span>
        <span className="what">Trip</span>
        <span className="strip">First light to last</span>
        <span className="hours">rod-hours</span>
        <span className="fish">fish</span>
        <span className="rate">per rod-hour</span>
      </div>
      {width === 0 ? null : (
        <Virtualizer layout={ListLayout} layoutOptions={layoutOptions}>
          <GridList
            ref={list}
            aria-label="Trips"
            items={trips}
            dependencies={[classes, units, wide]}
            onAction={(trip) => {
              kept.opened = String(trip)
              go({ at: "trip", trip: String(trip) })
            }}
          >
            {(trip) => (
              <GridListItem id={trip.id} textValue={sayTrip(trip)} className="trip-row">
                <Row trip={trip} classes={classes} units={units} wide={wide} />
              </GridListItem>
            )}
          </GridList>
        </Virtualizer>
      )}
    </div>
  )
}

function Row({
  trip,
  classes,
  units,
  wide,
}: {
  readonly trip: TripListed
  /** Null until they are known; strips wait for them. */
  readonly classes: readonly string[] | null
  readonly units: ReaderUnits
  readonly wide: boolean
}) {
  const fish = fishOf(trip)
  const hours = trip.rod_hours === null ? null : hoursFigure(trip.rod_hours)
  return (
    <>
      <span className="day" data-trip={trip.id}>
        {dayShort(trip.date)} <span className="soft">{trip.date.slice(0, 4)}</span>
      </span>
      <span className="what">
        <span className="title">{tripName(trip)}</span>
        <span className="soft small">{tripParty(trip)}</span>
      </span>
      <span className="strip">
        {classes === null || trip.status === "planned" ? null : (
          <RowStrip trip={trip.id} classes={classes} units={units} />
        )}
      </span>
      <span className="hours">{wide ? (hours ?? "-") : hours === null ? null : `${hours} rod-hours`}</span>
      <span className="fish">
        {fish.figure}
        {wide || !/^\d+$/.test(fish.figure) ? "" : " fish"}
        {fish.word === null ? null : <span className="soft small"> {fish.word}</span>}
      </span>
      <span className="rate">{rateFigure(trip)}</span>
    </>
  )
}

function useWidth(place: RefObject<HTMLDivElement | null>): number {
  const [width, setWidth] = useState(0)
  useEffect(() => {
    const holder = place.current
    if (holder === null) return
    const watcher = new ResizeObserver(([entry]) => setWidth(Math.floor(entry?.contentRect.width ?? 0)))
    watcher.observe(holder)
    return () => watcher.disconnect()
  }, [place])
  return width
}

const mostFrames = 30

/** Scrolls back to where the list was left, with the focus on the trip that was opened; keeps the place when it is left. */
function useKeptPlace(list: RefObject<HTMLDivElement | null>, ready: boolean): void {
  // A layout effect ends while the list still stands, so that its place can be read.
  useLayoutEffect(() => {
    if (!ready) return
    const { scroll, opened } = kept
    let frame = 0
    let left = mostFrames
    let settled = false
    const settle = () => {
      window.scrollTo(0, scroll)
      const row =
        opened === null
          ? null
          : list.current?.querySelector(`[data-trip="${CSS.escape(opened)}"]`)?.closest("[role=row]")
      const there = Math.abs(window.scrollY - scroll) < 2 && (opened === null || row instanceof HTMLElement)
      if (!there && left-- > 0) {
        frame = requestAnimationFrame(settle)
        return
      }
      if (row instanceof HTMLElement) row.focus({ preventScroll: true })
      kept.opened = null
      settled = true
    }
    frame = requestAnimationFrame(settle)
    return () => {
      cancelAnimationFrame(frame)
      if (settled) kept.scroll = window.scrollY
    }
  }, [list, ready])
}
