import { presets, ReaderUnits } from "../../../shared/readerUnits.ts"
import { units as unitTable } from "../../../shared/units.ts"
import { Fold } from "../../parts/Fold.tsx"
import { Radios } from "../../parts/Radios.tsx"

const presetNames = ["metric", "us", "own"] as const
const presetWords = { metric: "metric", us: "US", own: "a choice of your own" }

const quantities: Record<keyof ReaderUnits, string> = {
  temperature: "Temperature",
  speed: "Wind, current",
  pressure: "Barometer",
  depth: "Depth, tide",
  sight_depth: "Sight depth",
  length: "Lengths",
  tackle_weight: "Tackle",
  fish_weight: "Fish",
  line_strength: "Line",
}
const isQuantity = (key: string): key is keyof ReaderUnits => key in quantities

/** The units in which the open logbook is told: as a whole, or one by one. */
export function Units({
  units,
  onSave,
}: {
  readonly units: ReaderUnits
  readonly onSave: (units: ReaderUnits) => void
}) {
  const same = (preset: ReaderUnits): boolean =>
    Object.keys(quantities)
      .filter(isQuantity)
      .every((key) => preset[key] === units[key])
  const named = same(presets.metric) ? "metric" : same(presets.us) ? "us" : "own"
  return (
    <>
      <Radios
        label="Units"
        options={presetNames.filter((name) => name !== "own" || named === "own")}
        say={(name) => presetWords[name]}
        value={named}
        onChange={(name) => {
          if (name !== "own") onSave(presets[name])
        }}
      />
      <Fold title="Each unit by itself">
        {Object.keys(quantities)
          .filter(isQuantity)
          .map((key) => (
            <Radios
              key={key}
              label={quantities[key]}
              options={ReaderUnits.shape[key].unwrap().options}
              say={(unit) => unitTable[unit].symbol}
              value={units[key]}
              onChange={(unit) => {
                const changed = ReaderUnits.safeParse({ ...units, [key]: unit })
                if (changed.success) onSave(changed.data)
              }}
            />
          ))}
      </Fold>
    </>
  )
}
