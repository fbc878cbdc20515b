import { useState } from "react"
import { Button } from "react-aria-components"
import type { DeskState } from "../../../shared/desk.ts"
import { go } from "../../app/route.ts"
import { useCommand } from "../../app/actions.tsx"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { Progress } from "../../parts/Progress.tsx"
import { Backups } from "./Backups.tsx"
import { ExportTables } from "./ExportTables.tsx"
import { Imports } from "./Imports.tsx"
import { NewLogbook } from "./NewLogbook.tsx"
import { useDesk } from "./useDesk.ts"

const day = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "short" })

/** Logbooks, tables in and out, and backups. */
export function Files({ desk }: { readonly desk: DeskState }) {
  return (
    <article>
      <h1>Files</h1>
      <Logbooks desk={desk} />
      {desk.open === null ? null : (
        <>
          <Imports key={desk.open.name} readOnly={desk.open.read_only !== null} />
          <ExportTables />
          <Backups />
        </>
      )}
    </article>
  )
}

function Logbooks({ desk }: { readonly desk: DeskState }) {
  const { sample, open } = useDesk()
  const [naming, setNaming] = useState(false)
  useCommand("file.new", () => setNaming(true))
  useCommand("file.sample", () => void sample.run({}).then((done) => done && go({ at: "logbook" })))
  return (
    <section>
      <p className="soft">
        Your logbooks are in {desk.folder}. {desk.open?.read_only ?? ""}
      </p>
      <table className="text">
        <thead>
          <tr>
            <th>Logbook</th>
            <th>changed</th>
            <th>size</th>
            <td />
          </tr>
        </thead>
        <tbody>
          {desk.files.map(({ name, bytes, changed_at, sample: madeUp }) => (
            <tr key={name}>
              <td>
                <Button
                  isDisabled={desk.open?.name === name}
                  onPress={() => void open.run({ name }).then((done) => done && go({ at: "logbook" }))}
                >
                  {name}
                </Button>
              </td>
              <td>{day.format(changed_at)}</td>
              <td>{(bytes / 2 ** 20).toFixed(1)} MB</td>
              <td className="words soft">{desk.open?.name === name ? "open" : madeUp ? "made up" : ""}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {naming ? (
        <NewLogbook onDone={() => setNaming(false)} />
      ) : (
        <p className="row">
          <Button onPress={() => setNaming(true)}>New logbook</Button>
          <Button onPress={() => void sample.run({}).then((done) => done && go({ at: "logbook" }))}>
            The sample logbook
          </Button>
        </p>
      )}
      <Progress act={sample} what="Making the sample" />
      {[sample.problem, open.problem].map((problem, i) =>
        problem === null ? null : <ProblemText key={i} problem={problem} />,
      )}
    </section>
  )
}
