import { useState } from "react"
import { Button } from "react-aria-components"
import { commands, type CommandId } from "../../../shared/commands.ts"
import type { DeskState } from "../../../shared/desk.ts"
import { keyName, useCommand } from "../../app/actions.tsx"
import { useIncoming } from "../../app/incoming.tsx"
import { regionUnits } from "../../app/regionUnits.ts"
import { go } from "../../app/route.ts"
import { Problems, ProblemText } from "../../parts/ProblemText.tsx"
import { Progress } from "../../parts/Progress.tsx"
import { useFilePicker } from "../../parts/useFilePicker.tsx"
import { latestFirst } from "./Logbooks.tsx"
import { NewLogbook, withEnding } from "./NewLogbook.tsx"
import { Rescue } from "./Rescue.tsx"
import { spoilt, useDesk } from "./useDesk.ts"

/** What a newcomer meets: the sample first, then a logbook of one's own, then a table, then the logbooks already there. */
export function FirstRun({ desk }: { readonly desk: DeskState }) {
  const { sample, open, make } = useDesk()
  const { leave } = useIncoming()
  const [naming, setNaming] = useState(false)
  const [tried, setTried] = useState("")
  const openSample = () =>
    void sample.run({ units: regionUnits }).then((done) => done && go({ at: "produces" }))
  /** Makes a logbook named after the first table, and goes where it is looked at. */
  const beginWith = async (files: readonly File[]) => {
    const [first] = files
    if (first === undefined) return
    const made = await make.run({
      name: withEnding(first.name.replace(/\.[^.]*$/, "")),
      units: regionUnits,
    })
    if (made === null) return
    leave(files)
    go({ at: "files" })
  }
  const { pick, input } = useFilePicker("Tables to begin with", (files) => void beginWith(files))
  useCommand("file.sample", openSample)
  useCommand("file.new", () => setNaming(true))
  useCommand("file.import", pick)
  const openNamed = async (name: string) => {
    setTried(name)
    if ((await open.run({ name })) !== null) go({ at: "logbook" })
  }
  return (
    <article className="title-page">
      {open.problem === null ? null : <ProblemText problem={open.problem} />}
      {open.problem !== null && spoilt(open.problem) ? <Rescue logbook={tried} /> : null}
      <h1>Keep the blank hours too</h1>
      <p className="lead">
        Memory keeps the good days. Stintbook keeps every stretch of fishing, with what was tied on and what
        came of it, and tells from it what really produces, and how sure one can be.
      </p>
      <ul className="ways">
        <li>
          <span>
            <Button className="main" autoFocus onPress={openSample}>
              Open the sample logbook
            </Button>
          </span>
          <span className="soft">
            Three seasons of an invented guide on the coast of Georgia, around real tide stations. A file of
            its own, that never mixes with yours.
          </span>
          <Key of="file.sample" />
          {sample.running ? <Progress act={sample} what="Making the sample" /> : null}
        </li>
        <li>
          <span>
            <Button onPress={() => setNaming(true)}>New logbook</Button>
          </span>
          <span className="soft">
            An empty one, to type your days into, or to fill with tables. The next page says how to begin.
          </span>
          <Key of="file.new" />
          {naming ? <NewLogbook onDone={() => go({ at: "logbook" })} /> : null}
        </li>
        <li>
          <span>
            <Button onPress={pick}>Begin with a table</Button>
          </span>
          <span className="soft">
            A spreadsheet of what you fished becomes a new logbook. It is shown before anything is kept.
          </span>
          <Key of="file.import" />
        </li>
        {latestFirst(desk)
          .filter((file) => !file.sample)
          .map(({ name }) => (
            <li key={name}>
              <span>
                <Button onPress={() => void openNamed(name)}>{name}</Button>
              </span>
              <span className="soft">In your folder.</span>
            </li>
          ))}
      </ul>
      {input}
      <Problems of={[sample.problem, make.problem]} />
    </article>
  )
}

function Key({ of }: { readonly of: CommandId }) {
  const command = commands.find(({ id }) => id === of)
  return command === undefined ? null : <kbd>{keyName(command)}</kbd>
}
