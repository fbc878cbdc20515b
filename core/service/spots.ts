import type { Handlers } from "../../shared/api.ts"
import { entities } from "../../shared/entities.ts"
import { Spot, type SpotChange } from "../../shared/places.ts"
import { ProblemError } from "../../shared/problems.ts"
import { landIn } from "../conditions/coast/coast.ts"
import { readCoordinates } from "../conditions/coordinates.ts"
import { currentHere, placeOf, tideHere } from "../conditions/spotWater.ts"
import { doubtAbout, stationSeen } from "../conditions/stations/fit.ts"
import type { ListedStation } from "../conditions/stations/stationFile.ts"
import type { Stations } from "../conditions/stations/stations.ts"
import { zoneAt } from "../conditions/zoneAt.ts"
import { requireZone } from "../exchange/read/zone.ts"
import type { Logbook } from "../store/logbook.ts"
import { add, put, rowById, type OpenChange } from "../store/put.ts"
import { spotByName, spotsWithUse, stintsAt } from "../store/read/spots.ts"
import { requireCodes } from "./codes.ts"
import type { Queue } from "./queue.ts"
import { stationsOf } from "./stationsOf.ts"

type Area = Pick<Handlers, "spots.list" | "spots.save" | "coast.land">

/** Spots: where they are, and which stations their tide and current come from. */
export const spotHandlers = (book: Logbook, queue: Queue, change: Queue): Area => ({
  "spots.list": () =>
    queue(async () => {
      const stations = stationsOf(book)
      return book.read(spotsWithUse).map((spot) => {
        const place = placeOf(spot)
        const seen = (station: ListedStation | undefined) =>
          station === undefined ? null : stationSeen(station, place, stations)
        return {
          ...spot,
          doubt: place === null ? null : doubtAbout(place, stations),
          tide: seen(tideHere(spot, stations)?.source.station),
          current: seen(currentHere(spot, stations)?.source.station),
        }
      })
    }),
  "coast.land": async (box) => landIn(box).map((rings) => rings.map((ring) => ring.map(([x, y]) => [x, y]))),
  "spots.save": (wanted) =>
    change(async () => {
      const stations = stationsOf(book)
      return book.change((open) => {
        const spot = saveSpot(open, wanted, stations)
        return { spot, act: open.batch, stints: stintsAt(open.db, spot.id) }
      })
    }),
})

function saveSpot(open: OpenChange, wanted: SpotChange, stations: Stations): Spot {
  const { id, coordinates, ...typed } = wanted
  const before = id === undefined ? null : rowById(open.db, "spot", id)
  if (id !== undefined && before === null)
    throw new ProblemError("bad_input", `There is no spot ${id} in this logbook.`, { spot: id })
  const place = coordinates === undefined ? {} : readCoordinates(coordinates)
  const row = withZone({ ...before, ...typed, ...place }, before, typed.zone)
  const name = row.name
  if (name === undefined) throw new ProblemError("bad_input", "A new spot needs a name.", {})
  if (((row.lat ?? null) === null) !== ((row.lon ?? null) === null))
    throw new ProblemError(
      "bad_input",
      `${name} has only one of latitude and longitude; give both or neither.`,
      {},
    )
  const namesake = spotByName(open.db, name)
  if (namesake !== null && namesake !== id)
    throw new ProblemError("bad_input", `There is a spot ${name} already. Choose another name.`, { name })
  checkStation(row.tide_station, "tide", stations)
  checkStation(row.current_station, "current", stations)
  checkMinutes(row)
  checkSlacks(row)
  requireZone(row.zone ?? null)
  requireCodes(open, id ?? null, { code: typed.code ?? null })
  const draft = { ...row, name }
  const saved =
    before === null
      ? add(open, "spot", draft)
      : put(open, "spot", entities.spot.parse({ ...before, ...known(draft) })).id
  return Spot.parse(rowById(open.db, "spot", saved))
}

/** The columns that were said; what is left out stays as it is. */
const known = (draft: object): object =>
  Object.fromEntries(Object.entries(draft).filter(([, value]) => value !== undefined))

type Typed = Omit<SpotChange, "id" | "coordinates">

/** A place given without a zone brings its own, unless the spot had one and stays where it was. */
function withZone(row: Typed, before: Typed | null, typed: string | null | undefined): Typed {
  const { lat = null, lon = null } = row
  if (typed !== undefined || lat === null || lon === null) return row
  const moved = before === null || before.lat !== lat || before.lon !== lon
  return moved || (row.zone ?? null) === null ? { ...row, zone: zoneAt({ lat, lon }) } : row
}

function checkStation(id: string | null | undefined, kind: ListedStation["kind"], stations: Stations): void {
  if (id === null || id === undefined) return
  const station = stations.find(id)
  if (station?.kind === kind) return
  const what = station === null ? "There is no station" : `${station.name} is a ${station.kind} station:`
  throw new ProblemError(
    "unknown_station",
    `${what} ${id}. Choose a ${kind} station from the list of those nearby.`,
    { station: id, kind },
  )
}

/** How far a spot's waters and slacks may be from its station's: half a day, as a water further off is another one. */
const mostMinutes = 720

function checkMinutes({ name, ...row }: Typed): void {
  for (const column of [
    "lag_high_min",
    "lag_low_min",
    "slack_after_high_min",
    "slack_after_low_min",
  ] as const) {
    const minutes = row[column] ?? 0
    if (Math.abs(minutes) > mostMinutes)
      throw new ProblemError(
        "bad_input",
        `${name ?? "The spot"} cannot differ from its station by ${minutes} minutes; ${mostMinutes} is the most.`,
        { [column]: minutes },
      )
  }
}

function checkSlacks({ slack_after_high_min, slack_after_low_min, slack_source, name }: Typed): void {
  const [high = null, low = null] = [slack_after_high_min, slack_after_low_min]
  if (high === null && low === null) return
  if (high === null || low === null)
    throw new ProblemError(
      "bad_input",
      `${name ?? "The spot"} needs both slacks: after high and after low water.`,
      {},
    )
  if ((slack_source ?? null) === null)
    throw new ProblemError("bad_input", "Say where the slack times come from, and of when they are.", {})
}
