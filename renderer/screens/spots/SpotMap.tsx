import { useCallback, useMemo } from "react"
import { useInk } from "../../charts/ink.ts"
import { LazyChart } from "../../charts/LazyChart.tsx"
import { boxAround } from "../../charts/mapBox.ts"
import { spotMap } from "../../charts/spotMap.ts"
import { useCall } from "../../client/useCall.ts"
import type { PlacedSpot } from "./Spots.tsx"

/** The spots on an offline coast; the list below says the same to those who cannot see it. */
export function SpotMap({
  spots,
  chosen,
}: {
  readonly spots: readonly PlacedSpot[]
  readonly chosen: string
}) {
  const ink = useInk()
  const box = useMemo(() => boxAround(spots), [spots])
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
    (width: number) => spotMap(spots, box, { width, ink, chosen, land: land ?? [], stations }),
    [spots, box, chosen, land, stations, ink.size],
  )
  return (
    <figure className="spot-map">
      <LazyChart figureAt={figureAt} height="14rem" />
      <figcaption className="soft small">
        △ tide station. Coast: Natural Earth, 1:10 million; creeks, bars and small islands are not in it. Not
        for navigation.
      </figcaption>
    </figure>
  )
}
