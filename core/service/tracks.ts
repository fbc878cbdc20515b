import type { Handlers } from "../../shared/api.ts"
import { ProblemError } from "../../shared/problems.ts"
import type { TrackListed } from "../../shared/tracks.ts"
import { localDate } from "../conditions/localClock.ts"
import { zoneAt } from "../conditions/zoneAt.ts"
import type { Logbook } from "../store/logbook.ts"
import { nameAct } from "../store/nameAct.ts"
import { removeById, rowById } from "../store/put.ts"
import { tripTimes, type TripTimes } from "../store/read/tripTimes.ts"
import { storedTracks, type StoredTrack } from "../store/read/tracks.ts"
import type { Queue } from "./queue.ts"
import { tripSharing } from "./tripOfTrack.ts"

type Area = Pick<Handlers, "tracks.list" | "tracks.remove">

/** The boat's tracks: which there are, with the trips they were made on. They come in with the files. */
export const trackHandlers = (book: Logbook, queue: Queue, change: Queue): Area => ({
  "tracks.list": () =>
    queue(async () =>
      book.read((db) => {
        const tracks = storedTracks(db)
        const trips = tracks.length === 0 ? [] : tripTimes(db)
        return tracks.map((track) => listed(track, trips))
      }),
    ),
  "tracks.remove": ({ id }) =>
    change(async () =>
      book.change((open) => {
        const track = rowById(open.db, "track", id)
        if (track === null || track.deleted_at !== null)
          throw new ProblemError("bad_input", "That track is not in this logbook, or no longer.", {
            track: id,
          })
        removeById(open, "track", id)
        nameAct(open, track.name === null ? "track removed" : `track ${track.name} removed`)
        return { act: open.batch }
      }),
    ),
})

function listed(track: StoredTrack, trips: readonly TripTimes[]): TrackListed {
  const { start_at, end_at, points } = track
  const trip = start_at === null || end_at === null ? null : tripSharing(trips, { start_at, end_at })
  const [lon = 0, lat = 0] = points[0]?.[0] ?? []
  const zone = trip?.zone ?? zoneAt({ lat, lon })
  return {
    ...track,
    zone,
    date: start_at === null ? null : localDate(start_at, zone),
    trip: trip === null ? null : { id: trip.id, date: trip.date },
  }
}
