import type { Handlers } from "../../shared/api.ts"
import type { DayHead } from "../../shared/day.ts"
import { entities } from "../../shared/entities.ts"
import { ProblemError } from "../../shared/problems.ts"
import type { HeadChange, Season, TripLine } from "../../shared/tripActs.ts"
import { wallClock } from "../conditions/localClock.ts"
import { readTripLine } from "../day/tripLine.ts"
import { requireZone } from "../exchange/read/zone.ts"
import type { Logbook } from "../store/logbook.ts"
import { nameAct } from "../store/nameAct.ts"
import { add, type OpenChange, put, removeById, rowById } from "../store/put.ts"
import { putSetting } from "../store/putSetting.ts"
import { codedRows } from "../store/read/codes.ts"
import { dayHead, emptyTrip, tripAnglers } from "../store/read/day.ts"
import { settingOf } from "../store/read/names.ts"
import { tripsByYear } from "../store/read/seasons.ts"
import { zoneOfSpot } from "../store/read/spots.ts"
import { namesOf } from "../tape/names.ts"
import { countedFor, rememberCounted } from "./counted.ts"
import type { Queue } from "./queue.ts"
import { settingsIn } from "./settings.ts"
import { noTrip } from "./noTrip.ts"

type Area = Pick<
  Handlers,
  | "trips.read_line"
  | "trips.open"
  | "trips.head"
  | "trips.save"
  | "trips.remove"
  | "seasons.list"
  | "seasons.save"
>

/** Trips to be opened in one line, their heads, and what a season's logbook leaves out. */
export const tripActHandlers = (book: Logbook, queue: Queue, change: Queue): Area => ({
  "trips.read_line": ({ line }) => queue(async () => book.read((db) => lineIn(db, line))),
  "trips.open": ({ line }) => change(async () => book.change((open) => openTrip(open, line))),
  "trips.head": ({ trip }) => queue(async () => book.read((db) => requireHead(db, trip))),
  "trips.save": ({ trip, changes, was }) =>
    change(async () => book.change((open) => saveHead(open, trip, changes, was ?? {}))),
  "trips.remove": ({ trip }) =>
    change(async () =>
      book.change((open) => {
        const { date } = requireHead(open.db, trip)
        removeById(open, "trip", trip)
        const said = `trip of ${date} removed`
        nameAct(open, said)
        return { act: open.batch, said }
      }),
    ),
  "seasons.list": () => queue(async () => book.read(seasonsIn)),
  "seasons.save": ({ year, unlogged }) =>
    change(async () =>
      book.change((open) => {
        const changed = putSetting(open, unloggedKey(year), unlogged === null ? notKnown : String(unlogged))
        if (changed)
          nameAct(
            open,
            unlogged === null
              ? `unlogged trips of ${year} not known`
              : `${unlogged} unlogged trips noted for ${year}`,
          )
        return { act: changed ? open.batch : null }
      }),
    ),
})

type Db = OpenChange["db"]

const lineIn = (db: Db, line: string): TripLine =>
  readTripLine(line, {
    names: namesOf(codedRows(db)),
    now: Date.now(),
    home_zone: settingsIn(db).home_zone,
    zoneOfSpot: (spot) => zoneOfSpot(db, spot),
  })

/** Makes the trip that a line tells; a day alone opens the trip of that day on which nothing stands yet. Throws ProblemError "bad_input", with the sentence, where it is not clear. */
function openTrip(open: OpenChange, line: string): { trip: string; act: string | null; said: string } {
  const read = lineIn(open.db, line)
  if (read.unclear !== null)
    throw new ProblemError("bad_input", read.unclear.sentence, { unclear: read.unclear })
  const empty = saysDayOnly(read) ? emptyTrip(open.db, read.date) : null
  const trip = empty ?? makeTrip(open, read)
  const said = `trip of ${read.date} opened`
  if (empty === null) nameAct(open, said)
  return { trip, act: empty === null ? open.batch : null, said }
}

const saysDayOnly = ({ start_at, spot, anglers, target }: TripLine): boolean =>
  start_at === null && spot === null && target === null && anglers.length === 0

/** A new trip, what was counted as its first angler last had it. One of a day to come is planned. */
export function makeTrip(
  open: OpenChange,
  read: Pick<TripLine, "date" | "zone" | "start_at" | "spot" | "anglers" | "target">,
): string {
  const today = wallClock(Date.now(), read.zone).date
  const trip = add(open, "trip", {
    date: read.date,
    zone: read.zone,
    start_at: read.start_at,
    target_species_id: read.target,
    completeness: "complete",
    ...countedFor(open.db, read.anglers[0] ?? null),
    status: read.date > today ? "planned" : "open",
    grouping: "said",
  })
  for (const angler of read.anglers) add(open, "trip_angler", { trip_id: trip, angler_id: angler })
  if (read.spot !== null) add(open, "stop", { trip_id: trip, ordinal: 0, spot_id: read.spot })
  return trip
}

function requireHead(db: Db, trip: string): DayHead {
  const head = dayHead(db, trip)
  if (head === null) throw noTrip(trip)
  return head
}

function saveHead(
  open: OpenChange,
  trip: string,
  { anglers, ...changes }: HeadChange,
  was: HeadChange,
): { head: DayHead; act: string | null } {
  const before = requireHead(open.db, trip)
  const standing = new Map<string, unknown>(Object.entries(before))
  const elsewhere = Object.entries(was).find(
    ([column, value]) => JSON.stringify(standing.get(column)) !== JSON.stringify(value),
  )
  if (elsewhere !== undefined)
    throw new ProblemError(
      "changed_since",
      `What the trip says of its ${elsewhere[0].replaceAll("_", " ")} was changed elsewhere meanwhile. Nothing was saved: look at it as it stands now.`,
      { column: elsewhere[0] },
    )
  requireZone(changes.zone ?? null)
  const row = rowById(open.db, "trip", trip)
  const differs = Object.entries(changes).some(([column, value]) => standing.get(column) !== value)
  if (row !== null && differs) put(open, "trip", entities.trip.parse({ ...row, ...changes }))
  const moved = anglers !== undefined && putAnglers(open, trip, anglers)
  if (!differs && !moved) return { head: before, act: null }
  const head = requireHead(open.db, trip)
  rememberCounted(open, head, changes)
  nameAct(open, `${wordsFor(Object.keys(changes), moved)} of the trip of ${head.date} changed`)
  return { head, act: open.batch }
}

const wordsFor = (columns: readonly string[], anglers: boolean): string => {
  const [only, more] = [...columns, ...(anglers ? ["anglers"] : [])]
  return only !== undefined && more === undefined ? only.replace(/_id$/, "").replaceAll("_", " ") : "head"
}

/** Makes a trip's anglers these, in this order. Returns whether anything changed. */
function putAnglers(open: OpenChange, trip: string, wanted: readonly string[]): boolean {
  const before = tripAnglers(open.db, trip)
  if (before.map(({ angler_id }) => angler_id).join(" ") === wanted.join(" ")) return false
  const same = before.findIndex(({ angler_id }, i) => angler_id !== wanted[i])
  const kept = same < 0 ? before.length : same
  for (const { id } of before.slice(kept)) removeById(open, "trip_angler", id)
  for (const angler of wanted.slice(kept)) add(open, "trip_angler", { trip_id: trip, angler_id: angler })
  return true
}

const unloggedKey = (year: number): string => `unlogged:${year}`
const notKnown = "not known"

/** A number is asked for once a year, when the year is over. */
function seasonsIn(db: Db): Season[] {
  const thisYear = Number(wallClock(Date.now(), settingsIn(db).home_zone ?? "UTC").date.slice(0, 4))
  return tripsByYear(db).map(({ year, trips }) => {
    const said = settingOf(db, unloggedKey(year))
    const unlogged = said === null || said === notKnown ? null : Number(said)
    return { year, trips, unlogged, ask: said === null && year < thisYear }
  })
}
