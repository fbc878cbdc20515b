import { useState } from "react"
import { Button } from "react-aria-components"
import type { Input } from "../../../shared/api.ts"
import { quantityFigure, readerUnit, type ReaderUnits } from "../../../shared/readerUnits.ts"
import { convert, units as unitTable } from "../../../shared/units.ts"
import { placeText } from "../../charts/spotMap.ts"
import { useSave } from "../../client/useSave.ts"
import { Fold } from "../../parts/Fold.tsx"
import { KeptField } from "../../parts/KeptField.tsx"
import { RecordHistory } from "../../parts/RecordHistory.tsx"
import type { SpotRow } from "./Spots.tsx"
import { StationChoice } from "./StationChoice.tsx"
import { Wrong } from "../../parts/Wrong.tsx"

type Change = Omit<Input<"spots.save">, "id">

/** One spot: its place, ground and depth, where its tide and current come from, and a private note. Kept as it is typed. */
export function SpotDetail({
  spot,
  spots,
  units,
}: {
  readonly spot: SpotRow
  readonly spots: readonly SpotRow[]
  readonly units: ReaderUnits
}) {
  const save = useSave("spots.save")
  const keep = (change: Change) => save({ id: spot.id, ...change })
  const orNull = (typed: string): string | null => (typed.trim() === "" ? null : typed.trim())
  const minutes = (column: MinutesColumn, label: string) => (
    <KeptField
      label={label}
      className="short"
      value={spot[column] === null ? "" : String(spot[column])}
      onKeep={(typed) => {
        const value = typed.trim() === "" ? null : Number(typed)
        return value !== null && !Number.isFinite(value)
          ? Promise.resolve(`${typed} is not a number of minutes.`)
          : keep({ [column]: value })
      }}
    />
  )
  const unit = readerUnit("m", units) === "ft" ? "ft" : "m"
  return (
    <aside className="detail" aria-label={spot.name}>
      <h2>{spot.name}</h2>
      {spot.doubt === null ? null : <p className="wrong">{spot.doubt}</p>}
      <div className="kept-fields">
        <KeptField
          label="Name"
          value={spot.name}
          onKeep={(typed) =>
            typed.trim() === "" ? Promise.resolve("A spot wants a name.") : keep({ name: typed.trim() })
          }
        />
        <KeptField
          label="Code"
          className="short"
          value={spot.code ?? ""}
          onKeep={(typed) => keep({ code: orNull(typed.toLowerCase()) })}
        />
        <KeptField
          label="Place"
          value={spot.lat === null || spot.lon === null ? "" : placeText(spot.lat, spot.lon)}
          placeholder="31 23.8 N 81 21.1 W"
          onKeep={(typed) =>
            keep(typed.trim() === "" ? { lat: null, lon: null } : { coordinates: typed.trim() })
          }
        />
        <KeptField
          label="Ground"
          value={spot.ground ?? ""}
          suggestions={wordsOf(spots, "ground")}
          onKeep={(typed) => keep({ ground: orNull(typed) })}
        />
        <KeptField
          label="Structure"
          value={spot.structure ?? ""}
          suggestions={wordsOf(spots, "structure")}
          onKeep={(typed) => keep({ structure: orNull(typed) })}
        />
        <KeptField
          label={`Usual depth, ${unitTable[unit].symbol}`}
          value={spot.usual_depth_m === null ? "" : quantityFigure(spot.usual_depth_m, "m", units)}
          onKeep={(typed) => {
            const value = typed.trim() === "" ? null : Number(typed)
            return value !== null && !(value >= 0)
              ? Promise.resolve(`${typed} is not a depth.`)
              : keep({ usual_depth_m: value === null ? null : convert(value, unit, "m") })
          }}
        />
      </div>
      <h3>Tide</h3>
      <StationChoice spot={spot} kind="tide" onKeep={(id) => keep({ tide_station: id })} />
      <div className="kept-fields">
        {minutes("lag_high_min", "High later by, min")}
        {minutes("lag_low_min", "Low later by, min")}
      </div>
      <h3>Current</h3>
      <StationChoice spot={spot} kind="current" onKeep={(id) => keep({ current_station: id })} />
      <Slacks spot={spot} keep={keep} />
      <h3>Private note</h3>
      <KeptField
        label="Private note"
        hidden
        long
        value={spot.notes ?? ""}
        placeholder="Never in an export or a report unless you ask for it"
        onKeep={(typed) => keep({ notes: orNull(typed) })}
      />
      <p className="soft small">
        {spot.zone === null
          ? "No zone: your home zone holds here."
          : `Clock of ${spot.zone.replaceAll("_", " ")}.`}{" "}
        Predicted tide and current are not for navigation; wind and rain move real water.
      </p>
      <RecordHistory entity="spot" id={spot.id} />
    </aside>
  )
}

type MinutesColumn = "lag_high_min" | "lag_low_min"

const wordsOf = (spots: readonly SpotRow[], column: "ground" | "structure"): string[] => [
  ...new Set(spots.flatMap((spot) => spot[column] ?? [])),
]

/** Slack water by the tide's own clock: both together, with where they come from, since either alone says little. */
function Slacks({
  spot,
  keep,
}: {
  readonly spot: SpotRow
  readonly keep: (change: Change) => Promise<string | null>
}) {
  const [wrong, setWrong] = useState<string | null>(null)
  const keepAll = (data: FormData): void => {
    const text = (name: string): string => {
      const value = data.get(name)
      return typeof value === "string" ? value.trim() : ""
    }
    const number = (name: string) => (text(name) === "" ? null : Number(text(name)))
    const [high, low, source] = [number("high"), number("low"), text("source")]
    if ([high, low].some((value) => Number.isNaN(value)))
      return setWrong("Slacks are minutes after high and after low water.")
    void keep({
      slack_after_high_min: high,
      slack_after_low_min: low,
      slack_source: source === "" ? null : source,
    }).then(setWrong)
  }
  return (
    <Fold
      title={
        spot.slack_source === null ? "Slack water of your own watch" : `Slack water: ${spot.slack_source}`
      }
      level={4}
    >
      <form
        className="kept-fields own-words"
        onSubmit={(event) => {
          event.preventDefault()
          keepAll(new FormData(event.currentTarget))
        }}
      >
        <label>
          <span className="soft small">Slack after high, min</span>
          <input name="high" className="short" defaultValue={spot.slack_after_high_min ?? ""} />
        </label>
        <label>
          <span className="soft small">after low, min</span>
          <input name="low" className="short" defaultValue={spot.slack_after_low_min ?? ""} />
        </label>
        <label>
          <span className="soft small">Where from, of when</span>
          <input name="source" className="long" defaultValue={spot.slack_source ?? ""} />
        </label>
        <Button type="submit">Keep</Button>
        <Wrong sentence={wrong} />
      </form>
    </Fold>
  )
}
