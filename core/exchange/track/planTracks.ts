import { counted } from "../../../shared/figures.ts"
import type { TrackPoint } from "../../../shared/tracks.ts"
import type { Span } from "../../store/read/tracks.ts"
import { besideTables } from "../besideTables.ts"
import type { ImportPlan } from "../plan.ts"
import { lengthOf, thinStretch } from "./thinTrack.ts"
import type { ReadTrack, TrackFile } from "./readTracks.ts"

/** A track to be stored: thinned, with the times of its first and last timed points. */
export type PlannedTrack = {
  readonly name: string | null
  readonly start_at: number | null
  readonly end_at: number | null
  readonly length_m: number
  readonly points: readonly (readonly TrackPoint[])[]
}

/**
 * The plan with what files of tracks bring. `stored`: the points of tracks in the logbook, as stored; `tripAt`: in words, the trip
 * whose times a track shares most, null where none does.
 */
export function withTracks(
  plan: ImportPlan,
  files: readonly TrackFile[],
  stored: ReadonlySet<string>,
  tripAt: (span: Span) => string | null,
): ImportPlan {
  if (files.length === 0) return plan
  const seen = new Set(stored)
  const tracks: PlannedTrack[] = []
  let already_there = 0
  const told = files.map(({ file, points, tracks: read, notTaken }) => {
    const own = read.map(thinned)
    for (const track of own) {
      const key = JSON.stringify(track.points)
      if (seen.has(key)) already_there++
      else tracks.push(track)
      seen.add(key)
    }
    return {
      file,
      points,
      kept: own.reduce((sum, track) => sum + track.points.flat().length, 0),
      not_taken: notTaken,
      tracks: own.map(({ name, start_at, end_at, length_m }) => ({
        name,
        start_at,
        end_at,
        length_m,
        trip: start_at === null || end_at === null ? null : tripAt({ start_at, end_at }),
      })),
    }
  })
  const { report } = plan
  return {
    ...plan,
    tracks,
    report: {
      ...report,
      ...besideTables(
        report,
        files.reduce((sum, { points }) => sum + points, 0),
        files.flatMap(({ refusals }) => refusals),
      ),
      tracks: { adds: tracks.length, already_there, files: told },
      assumptions: [...report.assumptions, ...assumptionsOf(files)],
      cautions: [...report.cautions, ...cautionsOf(files)],
    },
  }
}

function thinned({ name, stretches }: ReadTrack): PlannedTrack {
  const points = stretches.map(thinStretch).filter((stretch) => stretch.length > 1)
  const times = points.flat().flatMap(([, , at]) => at ?? [])
  return {
    name,
    start_at: times.length === 0 ? null : times.reduce((least, at) => Math.min(least, at)),
    end_at: times.length === 0 ? null : times.reduce((most, at) => Math.max(most, at)),
    length_m: Math.round(points.reduce((sum, stretch) => sum + lengthOf(stretch), 0)),
    points,
  }
}

const assumptionsOf = (files: readonly TrackFile[]): string[] => [
  "Of a track the points are kept that its shape needs, to 10 m; a record silent for ten minutes is broken off there.",
  ...files.flatMap(({ file, withoutOffset }) =>
    withoutOffset === 0
      ? []
      : [`${file}: ${counted(withoutOffset, "time")} without an offset taken as UTC, as the format says.`],
  ),
  ...files.flatMap(({ file, notTaken }) =>
    notTaken === 0
      ? []
      : [
          `${file}: ${counted(notTaken, "waypoint or route", "waypoints and routes")} not taken; only tracks are.`,
        ],
  ),
]

const cautionsOf = (files: readonly TrackFile[]): { code: string; text: string }[] => [
  ...files
    .filter(({ tracks }) => tracks.length === 0)
    .map(({ file }) => ({
      code: "no_track",
      text: `${file} holds no track of two points or more: nothing of it is kept.`,
    })),
  {
    code: "tracks_private",
    text: "Tracks show where you fish. They stay in this logbook and leave it in no export; they are a record, not for navigation.",
  },
]
