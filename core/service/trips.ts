import type { Handlers } from "../../shared/api.ts"
import { ProblemError } from "../../shared/problems.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import type { DayStrip, TripPage } from "../../shared/trips.ts"
import { watersCautions } from "../conditions/cautions.ts"
import { unreadCount } from "../store/read/day.ts"
import { stopWaters, tripDays } from "../store/read/tripDays.ts"
import { tripStops } from "../store/read/tripPage.ts"
import { tripHead, tripNeighbours, tripsListed } from "../store/read/trips.ts"
import type { Logbook } from "../store/logbook.ts"
import { dayStrip, skyOf, sunKept, type SkyOfDay } from "../trips/dayStrip.ts"
import type { TripDay } from "../trips/tripDay.ts"
import { weightsIn } from "./estimates.ts"
import type { Queue } from "./queue.ts"
import { settingsIn } from "./settings.ts"
import { stationsOf } from "./stationsOf.ts"
import { noTrip } from "./noTrip.ts"

type Area = Pick<Handlers, "trips.list" | "trips.strips" | "trips.page">

/** Trips to be read: the list, its day strips, and a trip's page. */
export const tripHandlers = (book: Logbook, queue: Queue): Area => {
  const sunOf = sunKept()
  const draw = () => {
    const sky = skyOf(stationsOf(book), sunOf)
    const { units } = book.read(settingsIn)
    return (day: TripDay) => stripOf(day, sky, units)
  }
  return {
    "trips.list": () => queue(async () => book.read(tripsListed)),
    "trips.strips": ({ trips }) =>
      queue(async () => {
        const days = book.read((db) => tripDays(db, trips))
        const strip = draw()
        return Object.fromEntries(days.map((day) => [day.id, strip(day)]))
      }),
    "trips.page": ({ trip }) => queue(async () => pageOf(book, trip, draw())),
  }
}

type Draw = (day: TripDay) => DayStrip | null

/** A trip's strip; none on a day that its zone's calendar left out. */
function stripOf(day: TripDay, sky: SkyOfDay, units: ReaderUnits): DayStrip | null {
  try {
    return dayStrip(day, sky, units)
  } catch (error) {
    if (error instanceof ProblemError) return null
    throw error
  }
}

function pageOf(book: Logbook, id: string, draw: Draw): TripPage {
  return book.read((db) => {
    const head = tripHead(db, id)
    if (head === null) throw noTrip(id)
    const stops = withEstimates(tripStops(db, id), weightsIn(db, settingsIn(db).units))
    const stints = stops.flatMap((stop) => stop.stints.map((stint) => ({ ...stint, spot: stop.spot })))
    const strip = draw({ ...head, stops: stopWaters(db, [id]), stints, fish: stints.flatMap(landedOf) })
    return {
      ...head,
      stints: stints.length,
      rod_hours: sumKnown(stints.map(({ rod_hours }) => rod_hours)),
      strikes: sumKnown(stints.map(({ strikes }) => strikes)),
      landed: sumKnown(stints.map(({ landed }) => landed)),
      strip,
      stops,
      cautions: [...unreadCaution(unreadCount(db, id)), ...cautionsOf(strip, stops)],
      ...tripNeighbours(db, id),
    }
  })
}

/** Stops with the weights of landed fish that were measured and not weighed, as far as one's own weighed fish tell. */
const withEstimates = (stops: TripPage["stops"], weightOf: ReturnType<typeof weightsIn>): TripPage["stops"] =>
  stops.map((stop) => ({
    ...stop,
    stints: stop.stints.map((stint) => ({
      ...stint,
      fish: stint.fish.map((strike) => {
        const { fate, species_id, length_mm, weight_g: weighed } = strike
        if (fate !== "landed" || species_id === null || length_mm === null || weighed !== null) return strike
        const { weight_g, fish } = weightOf(species_id, length_mm)
        return weight_g === null ? strike : { ...strike, estimated: { weight_g, fish } }
      }),
    })),
  }))

type Stint = TripPage["stops"][number]["stints"][number]

const landedOf = ({ id, fish }: Stint) =>
  fish.flatMap(({ fate, at, species }) => (fate === "landed" ? [{ stint: id, at, species }] : []))

/** As the list sums them: unknown as soon as one is, and where there are none. */
function sumKnown(values: readonly (number | null)[]): number | null {
  const known = values.filter((value) => value !== null)
  return known.length < values.length || known.length === 0
    ? null
    : known.reduce((sum, value) => sum + value, 0)
}

/** What was typed of a day and cannot be read counts for nothing until it is mended. */
const unreadCaution = (unread: number): TripPage["cautions"] =>
  unread === 0
    ? []
    : [
        {
          code: "not_read",
          text: `${unread === 1 ? "1 thing typed of this day cannot be read yet and is" : `${unread} things typed of this day cannot be read yet and are`} in no figure. Mend it on the sheet or the tape.`,
        },
      ]

/** The cautions of predicted water, where the page shows any: a strip with a tide, or stints with predicted conditions. */
function cautionsOf(strip: DayStrip | null, stops: TripPage["stops"]): TripPage["cautions"] {
  const predicted = (factor: string) =>
    stops.some(({ stints }) =>
      stints.some(({ conditions }) =>
        conditions.some((condition) => condition.factor === factor && condition.source !== "imported"),
      ),
    )
  const tide = strip !== null && strip.tide !== null ? strip.tide : null
  return watersCautions({
    tide: tide !== null || predicted("tide_height_m"),
    current: predicted("current_stage"),
    interpolated: tide?.interpolated === true,
  })
}
