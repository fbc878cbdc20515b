import { useState } from "react"
import { Button } from "react-aria-components"
import { useCommand } from "../../app/actions.tsx"
import { useAct } from "../../client/useAct.ts"
import { useCall } from "../../client/useCall.ts"
import { Problems } from "../../parts/ProblemText.tsx"
import { BackupTable } from "./BackupTable.tsx"

/** Copies of the open logbook: made now, and those made before, any of which can be put in its place. */
export function Backups() {
  const [made, setMade] = useState(0)
  const list = useCall("backups.list", {}, made)
  const backUp = useAct("logbook.back_up")
  const restore = useAct("desk.restore")
  const [said, setSaid] = useState("")
  const now = async () => {
    const result = await backUp.run({})
    if (result === null) return
    setMade((count) => count + 1)
    setSaid("Backed up.")
  }
  useCommand("file.back_up", () => void now())
  const putBack = async (name: string) => {
    const result = await restore.run({ name })
    if (result !== null) setSaid(`Restored. What was there before is kept as ${result.kept_as}.`)
  }
  const backups = list.value ?? []
  return (
    <section className="whole">
      <h2>Backups</h2>
      <p className="row">
        <Button isDisabled={backUp.running} onPress={() => void now()}>
          Back up now
        </Button>
        <span className="soft">One is made by itself at a day's first change and before every import.</span>
      </p>
      <p role="status" className="soft">
        {said}
      </p>
      <Problems of={[list.problem, backUp.problem, restore.problem]} />
      {backups.length === 0 ? null : (
        <BackupTable backups={backups} busy={restore.running} onRestore={(name) => void putBack(name)} />
      )}
    </section>
  )
}
