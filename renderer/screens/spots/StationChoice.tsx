import { useState } from "react"
import type { StationSeen } from "../../../shared/places.ts"
import { useCall } from "../../client/useCall.ts"
import { Choice } from "../../parts/Choice.tsx"
import type { SpotRow } from "./Spots.tsx"
import { Wrong } from "../../parts/Wrong.tsx"

const nearest = "nearest"
const offered = 8

/** Which station a spot's tide or current comes from: chosen from those near, with their distance, or the nearest that fits. */
export function StationChoice({
  spot,
  kind,
  onKeep,
}: {
  readonly spot: SpotRow
  readonly kind: StationSeen["kind"]
  readonly onKeep: (id: string | null) => Promise<string | null>
}) {
  const [wrong, setWrong] = useState<string | null>(null)
  const { lat, lon } = spot
  const near = useCall(
    "stations.near",
    lat === null || lon === null ? null : { lat, lon, count: offered },
  ).value
  const own = kind === "tide" ? spot.tide_station : spot.current_station
  const used = kind === "tide" ? spot.tide : spot.current
  if (lat === null || lon === null) return <p className="soft">Give the spot a place first.</p>
  const stations = near === null ? [] : near[kind]
  const listed = used !== null && !stations.some(({ id }) => id === used.id) ? [used, ...stations] : stations
  return (
    <>
      <p>
        <Choice
          label={kind === "tide" ? "Tide station" : "Current station"}
          sections={[
            {
              title: "",
              options: [
                {
                  id: nearest,
                  label: kind === "tide" ? "the nearest tide station" : "only a station at the place",
                },
                ...listed.map((station) => ({ id: station.id, label: labelOf(station) })),
              ],
            },
          ]}
          value={own ?? nearest}
          onChange={(id) => void onKeep(id === nearest ? null : id).then(setWrong)}
        />
        {own === null && used !== null ? `: ${used.name}` : ""}.
      </p>
      <p className="soft small">{used === null ? `No ${kind} is told here.` : used.word}</p>
      <Wrong sentence={wrong} />
    </>
  )
}

const labelOf = ({ name, distance_km }: StationSeen): string =>
  distance_km === null ? name : `${name}, ${distance_km.toFixed(1)} km`
