import { Button, GridList, GridListItem } from "react-aria-components"
import { counted } from "../../../shared/figures.ts"
import type { TrackListed } from "../../../shared/tracks.ts"
import { addressOf } from "../../app/route.ts"
import { clockIn, dayLong } from "../../charts/clock.ts"
import { useAct } from "../../client/useAct.ts"
import { ProblemText } from "../../parts/ProblemText.tsx"

/** The boat's tracks, drawn on the map: one chosen is drawn heavier, and can be removed. */
export function Tracks({
  tracks,
  chosen,
  onChoose,
}: {
  readonly tracks: readonly TrackListed[]
  readonly chosen: string | null
  readonly onChoose: (id: string | null) => void
}) {
  const remove = useAct("tracks.remove")
  const shown = tracks.find(({ id }) => id === chosen) ?? null
  if (tracks.length === 0)
    return (
      <p className="soft small">
        Tracks of a plotter or a phone (GPX) come in with the <a href={addressOf({ at: "files" })}>files</a>,
        and are drawn here.
      </p>
    )
  return (
    <section aria-label="Tracks">
      <h2 className="small-heading">{counted(tracks.length, "track")}</h2>
      <div className="own-rows">
        <GridList
          aria-label="Tracks"
          selectionMode="single"
          selectionBehavior="replace"
          selectedKeys={shown === null ? [] : [shown.id]}
          onSelectionChange={(keys) => {
            const [key] = keys === "all" ? [] : [...keys]
            onChoose(key === undefined ? null : String(key))
          }}
          items={tracks}
        >
          {(track) => (
            <GridListItem id={track.id} textValue={nameOf(track)} className="own-row track-row">
              <span className="what">{nameOf(track)}</span>
              <span className="soft">{timesOf(track)}</span>
              <span className="uses">{(track.length_m / 1000).toFixed(1)} km</span>
            </GridListItem>
          )}
        </GridList>
      </div>
      {shown === null ? null : (
        <p className="row small">
          {shown.trip === null ? (
            <span className="soft">No trip in the logbook at its time.</span>
          ) : (
            <a href={addressOf({ at: "trip", trip: shown.trip.id })}>
              The trip of {dayLong(shown.trip.date)}
            </a>
          )}
          <Button onPress={() => void remove.run({ id: shown.id })}>Remove this track</Button>
        </p>
      )}
      {remove.problem === null ? null : <ProblemText problem={remove.problem} />}
    </section>
  )
}

const nameOf = ({ name, date }: TrackListed): string =>
  name ?? (date === null ? "a track without times" : dayLong(date))

function timesOf({ name, date, start_at, end_at, zone }: TrackListed): string {
  if (start_at === null || end_at === null || date === null) return "no times"
  const times = clockIn(zone).range(start_at, end_at)
  return name === null ? times : `${dayLong(date)}, ${times}`
}
