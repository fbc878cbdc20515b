import { Button } from "react-aria-components"
import { useCall } from "../../client/useCall.ts"
import { useSave } from "../../client/useSave.ts"
import { KeptField } from "../../parts/KeptField.tsx"

/** The one number that is asked once a season: how many trips were not logged. */
export function SeasonQuestion() {
  const seasons = useCall("seasons.list", {}).value ?? []
  const save = useSave("seasons.save")
  const season = seasons.find(({ ask }) => ask)
  if (season === undefined) return null
  const { year, trips } = season
  return (
    <p className="row small season-question">
      <KeptField
        label={`${trips} trips of ${year} are logged. How many were not?`}
        className="short"
        value=""
        onKeep={(typed) =>
          /^\d+$/.test(typed.trim())
            ? save({ year, unlogged: Number(typed.trim()) })
            : Promise.resolve(`${typed} is not a number of trips.`)
        }
      />
      <Button onPress={() => void save({ year, unlogged: null })}>I do not know</Button>
    </p>
  )
}
