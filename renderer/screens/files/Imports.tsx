import { useEffect, useEffectEvent, useState } from "react"
import { Button } from "react-aria-components"
import type { Input, Output } from "../../../shared/api.ts"
import { additionsText, addsNothing } from "../../../shared/imports.ts"
import { counted, listed } from "../../../shared/figures.ts"
import { useCommand } from "../../app/actions.tsx"
import { useIncoming } from "../../app/incoming.tsx"
import { useAct } from "../../client/useAct.ts"
import { useCall } from "../../client/useCall.ts"
import { upload } from "../../client/upload.ts"
import { useClient } from "../../client/useClient.ts"
import { saveAs } from "../../parts/saveAs.ts"
import { useFilePicker } from "../../parts/useFilePicker.tsx"
import { Problems, ProblemText } from "../../parts/ProblemText.tsx"
import { Progress } from "../../parts/Progress.tsx"
import { problemOf } from "../../../shared/rpc.ts"
import type { Problem } from "../../../shared/problems.ts"
import { usualChoices, type Choices } from "./choices.ts"
import { ImportPreview } from "./ImportPreview.tsx"
import { moment } from "../../parts/moment.ts"
import { columnsOf, Unclear } from "./Unclear.tsx"

type Chosen = { readonly names: readonly string[]; readonly files: Input<"import.preview">["files"] }
export type Mapping = Readonly<Record<string, string>>

/** Tables, station files and tracks in: chosen, looked at, brought in or left; and those that came before, to be taken back. */
export function Imports({ readOnly }: { readonly readOnly: boolean }) {
  const client = useClient()
  const [chosen, setChosen] = useState<Chosen | null>(null)
  const [mapping, setMapping] = useState<Mapping>({})
  const [choices, setChoices] = useState(usualChoices)
  const [done, setDone] = useState<Output<"import.commit"> | null>(null)
  const [reading, setReading] = useState("")
  const [problem, setProblem] = useState<Problem | null>(null)
  const commit = useAct("import.commit")
  const refused = useAct("import.refused")
  const preview = useCall(
    "import.preview",
    chosen === null ? null : { files: chosen.files, settings: settingsOf(mapping, choices) },
  )
  const choose = async (files: readonly File[]) => {
    if (files.length === 0) return
    setProblem(null)
    setDone(null)
    setMapping({})
    setChoices(usualChoices)
    setChosen(null)
    try {
      const sent = []
      for (const [i, file] of files.entries()) {
        setReading(files.length === 1 ? file.name : `${file.name}, ${i + 1} of ${files.length}`)
        sent.push(await upload(client, file))
      }
      setChosen({ names: files.map(({ name }) => name), files: sent })
    } catch (error) {
      setProblem(problemOf(error))
    } finally {
      setReading("")
    }
  }
  const { pick, input } = useFilePicker("Tables, station files or tracks", (files) => void choose(files))
  useCommand("file.import", readOnly ? null : pick)
  useIncomingFiles(readOnly ? null : choose)
  const unclear = chosen === null ? [] : columnsOf(preview.problem)
  const bringIn = async () => {
    if (chosen === null) return
    const result = await commit.run({ files: chosen.files, settings: settingsOf(mapping, choices) })
    if (result === null) return
    setDone(result)
    drop()
  }
  /** The files are no longer wanted; the core need not keep them. */
  const drop = () => {
    for (const file of chosen?.files ?? [])
      if ("upload" in file) void client.call("upload.drop", { upload: file.upload }).catch(() => undefined)
    setChosen(null)
  }
  const saveRefused = async () => {
    if (chosen === null) return
    const result = await refused.run({ files: chosen.files, settings: settingsOf(mapping, choices) })
    for (const { name, bytes } of result?.files ?? []) await saveAs(name, "text/csv", bytes)
  }
  return (
    <section className={chosen === null ? "" : "whole"}>
      <h2>Tables in</h2>
      <p>
        <Button className="main" isDisabled={readOnly} onPress={pick}>
          Choose tables, station files or tracks
        </Button>
      </p>
      <p className="soft">
        CSV, TSV, XLSX; buoy and tide-gauge files; GPX tracks; or drop them on the window. Nothing is stored
        before you have looked.
      </p>
      {input}
      <p role="status" className="soft">
        {reading !== "" || (chosen !== null && preview.value === null && preview.asking)
          ? `Reading ${reading === "" ? listed(chosen?.names ?? []) : reading}`
          : ""}
      </p>
      <Problems
        of={[problem, unclear.length > 0 ? null : preview.problem, refused.problem, commit.problem]}
      />
      {preview.problem === null || unclear.length === 0 ? null : (
        <Unclear problem={preview.problem} columns={unclear} mapping={mapping} onMap={setMapping} />
      )}
      {chosen === null || preview.value === null || preview.problem !== null ? null : (
        <ImportPreview
          names={chosen.names}
          report={preview.value}
          mapping={mapping}
          onMap={setMapping}
          choices={choices}
          onChoose={setChoices}
          onBringIn={() => void bringIn()}
          onLeave={drop}
          onSaveRefused={() => void saveRefused()}
        />
      )}
      <Progress act={commit} what="Bringing in" />
      {done === null ? null : (
        <p role="status">
          {addsNothing(done) ? "Nothing was added." : `Added ${additionsText(done)}.`}
          {done.refused_rows === 0 ? "" : ` ${counted(done.refused_rows, "row")} could not be taken.`}
        </p>
      )}
      <PastImports readOnly={readOnly} />
    </section>
  )
}

/** Takes files that were left for this page by another. */
function useIncomingFiles(onFiles: ((files: readonly File[]) => Promise<void>) | null): void {
  const { files, leave } = useIncoming()
  const take = useEffectEvent(() => {
    if (onFiles === null || files.length === 0) return
    leave([])
    void onFiles(files)
  })
  useEffect(() => take(), [files])
}

const settingsOf = (mapping: Mapping, choices: Choices) => ({
  ...choices,
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
              <th scope="col">Files</th>
              <th scope="col">when</th>
              <th scope="col">stints</th>
              <th scope="col">readings</th>
              <th scope="col">tracks</th>
              <td />
            </tr>
          </thead>
          <tbody>
            {batches.map(({ id, files, at, stints_added, readings_added, tracks_added, taken_back_at }) => (
              <tr key={id}>
                <td>{files}</td>
                <td>{moment(at)}</td>
                <td>{stints_added}</td>
                <td>{readings_added}</td>
                <td>{tracks_added}</td>
                <td className="act">
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
