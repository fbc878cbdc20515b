import { useRef, useState } from "react"
import { Button } from "react-aria-components"
import type { DeskState } from "../../../shared/desk.ts"
import { useCommand } from "../../app/actions.tsx"
import { regionUnits } from "../../app/regionUnits.ts"
import { go } from "../../app/route.ts"
import { Problems } from "../../parts/ProblemText.tsx"
import { Progress } from "../../parts/Progress.tsx"
import { moment } from "../../parts/moment.ts"
import { NewLogbook } from "./NewLogbook.tsx"
import { Rescue } from "./Rescue.tsx"
import { spoilt, useDesk } from "./useDesk.ts"

/** The logbooks of the folder, those opened last first; a new one, the sample. */
export function Logbooks({ desk }: { readonly desk: DeskState }) {
  const { sample, open } = useDesk()
  const [naming, setNaming] = useState(false)
  const [tried, setTried] = useState("")
  const table = useRef<HTMLTableElement>(null)
  useCommand("file.new", () => setNaming(true))
  useCommand("file.open", () => table.current?.querySelector<HTMLElement>("button:not(:disabled)")?.focus())
  const openSample = () =>
    void sample.run({ units: regionUnits }).then((done) => done && go({ at: "logbook" }))
  useCommand("file.sample", openSample)
  const openNamed = async (name: string) => {
    setTried(name)
    if ((await open.run({ name })) !== null) go({ at: "logbook" })
  }
  return (
    <section className="whole">
      <p className="soft">
        Your logbooks are in {desk.folder}. {desk.open?.read_only ?? ""}
      </p>
      <table className="text" ref={table}>
        <thead>
          <tr>
            <th scope="col">Logbook</th>
            <td />
            <th scope="col">changed</th>
            <th scope="col">size</th>
          </tr>
        </thead>
        <tbody>
          {latestFirst(desk).map(({ name, bytes, changed_at, sample: madeUp }) => (
            <tr key={name}>
              <td>
                <Button isDisabled={desk.open?.name === name} onPress={() => void openNamed(name)}>
                  {name}
                </Button>
              </td>
              <td className="words soft">
                {[desk.open?.name === name ? "open" : "", madeUp ? "made up" : ""].filter(Boolean).join(", ")}
              </td>
              <td>{moment(changed_at)}</td>
              <td>{(bytes / 2 ** 20).toFixed(1)} MB</td>
            </tr>
          ))}
        </tbody>
      </table>
      {naming ? (
        <NewLogbook onDone={() => go({ at: "logbook" })} />
      ) : (
        <p className="row">
          <Button onPress={() => setNaming(true)}>New logbook</Button>
          <Button onPress={openSample}>The sample logbook</Button>
        </p>
      )}
      <Progress act={sample} what="Making the sample" />
      <Problems of={[sample.problem, open.problem]} />
      {open.problem !== null && spoilt(open.problem) ? <Rescue logbook={tried} /> : null}
    </section>
  )
}

/** Those opened last, then the others by name. */
export function latestFirst({ files, recent }: DeskState): DeskState["files"] {
  const turn = ({ name }: DeskState["files"][number]): number =>
    recent.includes(name) ? recent.indexOf(name) : recent.length
  return files.toSorted((a, b) => turn(a) - turn(b))
}
