import { useCallback, useMemo } from "react"
import { useInk } from "../../charts/ink.ts"
import { LazyChart } from "../../charts/LazyChart.tsx"
import { boxAround } from "../../charts/mapBox.ts"
import { spotMap } from "../../charts/spotMap.ts"
import type { TrackListed } from "../../../shared/tracks.ts"
import { placesOf } from "../../charts/mapLines.ts"
import { useCall } from "../../client/useCall.ts"
import type { PlacedSpot } from "./Spots.tsx"

/** The spots and tracks on an offline coast; the lists below say the same to those who cannot see it. */
export function SpotMap({
  spots,
  chosen,
  tracks,
  chosenTrack,
}: {
  readonly spots: readonly PlacedSpot[]
  readonly chosen: string | null
  readonly tracks: readonly TrackListed[]
  readonly chosenTrack: string | null
}) {
  const ink = useInk()
  const box = useMemo(
    () => boxAround([...spots, ...placesOf(tracks, chosenTrack)]),
    [spots, tracks, chosenTrack],
  )
  const land = useCall("coast.land", box).value
  const stations = useMemo(
    () => [
      ...new Map(
        spots.flatMap(({ tide }) => (tide === null ? [] : [[tide.id, { ...tide, code: null }] as const])),
      ).values(),
    ],
    [spots],
  )
  const figureAt = useCallback(
    (width: number) =>
      spotMap(spots, box, { width, ink, chosen, land: land ?? [], stations, tracks, chosenTrack }),
    [spots, box, chosen, land, stations, tracks, chosenTrack, ink.size],
  )
  return (
    <figure className="spot-map">
      <LazyChart figureAt={figureAt} height="14rem" />
      <figcaption className="soft small">
        △ tide station.{tracks.length === 0 ? "" : " Thin lines are tracks."} Coast: Natural Earth, 1:10
        million; creeks, bars and small islands are not in it. Not for navigation.
      </figcaption>
    </figure>
  )
}
