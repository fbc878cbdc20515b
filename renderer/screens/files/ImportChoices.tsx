import { Fold } from "../../parts/Fold.tsx"
import { Radios } from "../../parts/Radios.tsx"
import type { Choices } from "./choices.ts"

const words = {
  row: "each a trip of its own",
  day: "those of a day and angler together",
  skip: "there already",
  separate: "stints of their own",
  metric: "metric",
  us: "US",
}

/** What a table leaves open: how its rows become trips, what repeated rows are, and a station file's units. */
export function ImportChoices({
  choices,
  onChoose,
}: {
  readonly choices: Choices
  readonly onChoose: (choices: Choices) => void
}) {
  return (
    <Fold title="What the table leaves open">
      <div className="text">
        <Radios
          label="Rows without a trip"
          options={["row", "day"]}
          say={(word) => words[word]}
          value={choices.trip_is}
          onChange={(trip_is) => onChoose({ ...choices, trip_is })}
        />
        <Radios
          label="Repeated rows"
          options={["skip", "separate"]}
          say={(word) => words[word]}
          value={choices.repeats}
          onChange={(repeats) => onChoose({ ...choices, repeats })}
        />
        <Radios
          label="Station files without units"
          options={["metric", "us"]}
          say={(word) => words[word]}
          value={choices.station_units ?? "metric"}
          onChange={(station_units) => onChoose({ ...choices, station_units })}
        />
      </div>
    </Fold>
  )
}
