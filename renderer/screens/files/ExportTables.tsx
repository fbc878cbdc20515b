import { useState } from "react"
import { Button, Checkbox } from "react-aria-components"
import { useCommand } from "../../app/actions.tsx"
import { useAct } from "../../client/useAct.ts"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { saveAs } from "../../parts/saveAs.ts"

/** The record as plain tables; places are left out unless asked for. */
export function ExportTables() {
  const [coordinates, setCoordinates] = useState(false)
  const [saved, setSaved] = useState("")
  const act = useAct("export.tables")
  const save = async () => {
    const result = await act.run({ coordinates })
    if (result === null) return
    for (const { name, bytes } of result.files) await saveAs(name, "application/octet-stream", bytes)
    setSaved(`Saved ${result.files.map(({ name }) => name).join(", ")}.`)
  }
  useCommand("file.export", () => void save())
  return (
    <section>
      <h2>Tables out</h2>
      <p className="row">
        <Button isDisabled={act.running} onPress={() => void save()}>
          Export as plain tables
        </Button>
        <Checkbox className="box" isSelected={coordinates} onChange={setCoordinates}>
          with the coordinates of spots
        </Checkbox>
      </p>
      <p className="soft">
        CSV and a workbook. What was worked out from place and time is in facts.csv only, so that the rest can
        be brought in again.
      </p>
      <p role="status" className="soft">
        {saved}
      </p>
      {act.problem === null ? null : <ProblemText problem={act.problem} />}
    </section>
  )
}
