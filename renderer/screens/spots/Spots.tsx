import { useMemo, useRef, useState } from "react"
import { GridList, GridListItem } from "react-aria-components"
import type { Output } from "../../../shared/api.ts"
import { counted } from "../../../shared/figures.ts"
import { presets, quantityText, type ReaderUnits } from "../../../shared/readerUnits.ts"
import type { TrackListed } from "../../../shared/tracks.ts"
import { useCommand } from "../../app/actions.tsx"
import { useCall } from "../../client/useCall.ts"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { NewSpot } from "./NewSpot.tsx"
import { SpotDetail } from "./SpotDetail.tsx"
import { SpotMap } from "./SpotMap.tsx"
import { Tracks } from "./Tracks.tsx"

export type SpotRow = Output<"spots.list">[number]

/** The user's own spots: on a map of the coast, as a list, and one by one. */
export default function Spots() {
  const spots = useCall("spots.list", {})
  const tracks = useCall("tracks.list", {}).value ?? none
  const units = useCall("settings.read", {}).value?.units ?? presets.metric
  if (spots.problem !== null) return <ProblemText problem={spots.problem} />
  if (spots.value === null) return <h1 className="hidden">Spots</h1>
  return <Page spots={spots.value} tracks={tracks} units={units} />
}

const none: readonly TrackListed[] = []

function Page({
  spots,
  tracks,
  units,
}: {
  readonly spots: readonly SpotRow[]
  readonly tracks: readonly TrackListed[]
  readonly units: ReaderUnits
}) {
  const [chosen, setChosen] = useState<string | null>(null)
  const [chosenTrack, setChosenTrack] = useState<string | null>(null)
  const shown = spots.find(({ id }) => id === chosen) ?? spots[0] ?? null
  const mapped = useMemo(() => spots.filter(isPlaced), [spots])
  const name = useRef<HTMLInputElement>(null)
  useCommand("spots.new", () => name.current?.focus())
  return (
    <>
      <h1 className="hidden">Spots</h1>
      <p className="question">
        {spots.length === 0
          ? "No spot yet. Name one, and say where it is if you like: its tide, light and zone follow."
          : `${counted(spots.length, "spot")}${mapped.length === spots.length ? "" : `, ${mapped.length} with a place`}. Yours alone: places leave this computer only if you ask for them.`}
      </p>
      <NewSpot ref={name} onKept={setChosen} />
      <div className="beside spots-body">
        <div>
          {mapped.length === 0 && tracks.length === 0 ? null : (
            <SpotMap spots={mapped} chosen={shown?.id ?? null} tracks={tracks} chosenTrack={chosenTrack} />
          )}
          {shown === null ? null : (
            <SpotList spots={spots} units={units} chosen={shown.id} onChoose={setChosen} />
          )}
          <Tracks tracks={tracks} chosen={chosenTrack} onChoose={setChosenTrack} />
        </div>
        {shown === null ? null : <SpotDetail key={shown.id} spot={shown} spots={spots} units={units} />}
      </div>
    </>
  )
}

export type PlacedSpot = SpotRow & { readonly lat: number; readonly lon: number }
const isPlaced = (spot: SpotRow): spot is PlacedSpot => spot.lat !== null && spot.lon !== null

function SpotList({
  spots,
  units,
  chosen,
  onChoose,
}: {
  readonly spots: readonly SpotRow[]
  readonly units: ReaderUnits
  readonly chosen: string
  readonly onChoose: (id: string) => void
}) {
  return (
    <div className="own-rows">
      <div className="own-row spot-row own-head" aria-hidden="true">
        <span>code</span>
        <span className="what">spot</span>
        <span>ground</span>
        <span className="uses">usual depth</span>
        <span className="uses">stints</span>
      </div>
      <GridList
        aria-label="Spots"
        selectionMode="single"
        selectionBehavior="replace"
        disallowEmptySelection
        selectedKeys={[chosen]}
        onSelectionChange={(keys) => {
          const [key] = keys === "all" ? [] : [...keys]
          if (key !== undefined) onChoose(String(key))
        }}
        items={spots}
        dependencies={[units]}
      >
        {(spot) => (
          <GridListItem
            id={spot.id}
            textValue={`${spot.code ?? ""} ${spot.name}`}
            className="own-row spot-row"
          >
            <span className="own-code">{spot.code ?? "–"}</span>
            <span className="what">{spot.name}</span>
            <span className="soft">{[spot.ground, spot.structure].filter(Boolean).join(", ")}</span>
            <span className="uses">
              {spot.usual_depth_m === null ? "" : quantityText(spot.usual_depth_m, "m", units)}
            </span>
            <span className="uses">{spot.stints}</span>
          </GridListItem>
        )}
      </GridList>
    </div>
  )
}
