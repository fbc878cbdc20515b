import { useRef, useState } from "react"
import { Button } from "react-aria-components"
import type { Input, Output } from "../../../shared/api.ts"
import { counted } from "../../../shared/figures.ts"
import { useCommand } from "../../app/actions.tsx"
import { useAct } from "../../client/useAct.ts"
import { useCall } from "../../client/useCall.ts"
import { upload } from "../../client/upload.ts"
import { useClient } from "../../client/useClient.ts"
import { saveAs } from "../../parts/saveAs.ts"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { Progress } from "../../parts/Progress.tsx"
import { problemOf } from "../../../shared/rpc.ts"
import type { Problem } from "../../../shared/problems.ts"
import { ImportPreview } from "./ImportPreview.tsx"

type Chosen = { readonly names: readonly string[]; readonly files: Input<"import.preview">["files"] }
export type Mapping = Readonly<Record<string, string>>

const day = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "short" })

/** Tables and station files in: chosen, looked at, brought in or left; and those that came before, to be taken back. */
export function Imports({ readOnly }: { readonly readOnly: boolean }) {
  const client = useClient()
  const picker = useRef<HTMLInputElement>(null)
  const [chosen, setChosen] = useState<Chosen | null>(null)
  const [mapping, setMapping] = useState<Mapping>({})
  const [done, setDone] = useState<Output<"import.commit"> | null>(null)
  const [problem, setProblem] = useState<Problem | null>(null)
  const commit = useAct("import.commit")
  const refused = useAct("import.refused")
  const preview = useCall(
    "import.preview",
    chosen === null ? null : { files: chosen.files, settings: settingsOf(mapping) },
  )
  useCommand("file.import", readOnly ? null : () => picker.current?.click())

  const choose = async (files: readonly File[]) => {
    setProblem(null)
    setDone(null)
    setMapping({})
    try {
      const sent = []
      for (const file of files) sent.push(await upload(client, file))
      setChosen(files.length === 0 ? null : { names: files.map(({ name }) => name), files: sent })
    } catch (error) {
      setProblem(problemOf(error))
    }
  }
  const bringIn = async () => {
    if (chosen === null) return
    const result = await commit.run({ files: chosen.files, settings: settingsOf(mapping) })
    if (result === null) return
    setDone(result)
    setChosen(null)
  }
  const saveRefused = async () => {
    if (chosen === null) return
    const result = await refused.run({ files: chosen.files, settings: settingsOf(mapping) })
    for (const { name, bytes } of result?.files ?? []) saveAs(name, "text/csv", bytes)
  }
  return (
    <section>
      <h2>Tables in</h2>
      <p>
        <Button className="main" isDisabled={readOnly} onPress={() => picker.current?.click()}>
          Choose tables or station files
        </Button>{" "}
        <span className="soft">
          CSV, TSV, XLSX; buoy and tide-gauge files. Nothing is stored before you have looked.
        </span>
      </p>
      <input
        ref={picker}
        type="file"
        multiple
        hidden
        aria-label="Tables or station files"
        onChange={({ target }) => void choose([...(target.files ?? [])]).then(() => (target.value = ""))}
      />
      {[problem, preview.problem, refused.problem, commit.problem].map((one, i) =>
        one === null ? null : <ProblemText key={i} problem={one} />,
      )}
      {chosen === null || preview.value === null ? null : (
        <ImportPreview
          names={chosen.names}
          report={preview.value}
          mapping={mapping}
          onMap={setMapping}
          onBringIn={() => void bringIn()}
          onLeave={() => setChosen(null)}
          onSaveRefused={() => void saveRefused()}
        />
      )}
      <Progress act={commit} what="Bringing in" />
      {done === null ? null : (
        <p role="status">
          Added {counted(done.creates.stints, "stint")} on {counted(done.creates.trips, "trip")}
          {done.readings.adds === 0 ? "" : ` and ${counted(done.readings.adds, "station reading")}`}.
          {done.refused_rows === 0 ? "" : ` ${counted(done.refused_rows, "row")} could not be taken.`}
        </p>
      )}
      <PastImports readOnly={readOnly} />
    </section>
  )
}

const settingsOf = (mapping: Mapping) => ({
  map: Object.entries(mapping).flatMap(([column, target]) => (target === "" ? [] : [`${column}=${target}`])),
})

function PastImports({ readOnly }: { readonly readOnly: boolean }) {
  const info = useCall("logbook.info", {})
  const takeBack = useAct("import.take_back")
  const batches = info.value?.batches ?? []
  if (batches.length === 0) return null
  return (
    <>
      <div className="wide" role="region" aria-label="Brought in before" tabIndex={0}>
        <table className="text">
          <caption>Brought in before</caption>
          <thead>
            <tr>
              <th>Files</th>
              <th>when</th>
              <th>stints</th>
              <th>readings</th>
              <td />
            </tr>
          </thead>
          <tbody>
            {batches.map(({ id, files, at, stints_added, readings_added, taken_back_at }) => (
              <tr key={id}>
                <td>{files}</td>
                <td>{day.format(at)}</td>
                <td>{stints_added}</td>
                <td>{readings_added}</td>
                <td>
                  {taken_back_at === null ? (
                    <Button
                      isDisabled={readOnly || takeBack.running}
                      onPress={() => void takeBack.run({ batch: id })}
                    >
                      Take back
                    </Button>
                  ) : (
                    "taken back"
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {takeBack.problem === null ? null : <ProblemText problem={takeBack.problem} />}
    </>
  )
}
