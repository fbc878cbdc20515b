import { Button } from "react-aria-components"
import { additionsText, addsNothing, type ImportPlanReport } from "../../../shared/imports.ts"
import { counted, listed } from "../../../shared/figures.ts"
import { dayLong } from "../../charts/clock.ts"
import { Fold } from "../../parts/Fold.tsx"
import { withoutFlags } from "../../parts/withoutFlags.ts"
import type { Choices } from "./choices.ts"
import { ImportChoices } from "./ImportChoices.tsx"
import type { Mapping } from "./Imports.tsx"
import { ReadAs } from "./ReadAs.tsx"

const shownRefusals = 20

/** What an import would do: what it makes, how each column is read, which rows cannot be taken, and what was assumed. */
export function ImportPreview({
  names,
  report,
  mapping,
  onMap,
  choices,
  onChoose,
  onBringIn,
  onLeave,
  onSaveRefused,
}: {
  readonly names: readonly string[]
  readonly report: ImportPlanReport
  readonly mapping: Mapping
  readonly onMap: (mapping: Mapping) => void
  readonly choices: Choices
  readonly onChoose: (choices: Choices) => void
  readonly onBringIn: () => void
  readonly onLeave: () => void
  readonly onSaveRefused: () => void
}) {
  const { readings, tracks } = report
  const nothing = addsNothing(report)
  const tables = report.columns.length > 0
  return (
    <section aria-label="Preview">
      <h3 className="said">
        {nothing
          ? `${listed(names)} would add nothing.`
          : `${listed(names)} would add ${additionsText(report)}.`}
      </h3>
      {tables ? <TablesRead report={report} /> : null}
      {tracks.files.flatMap((file) =>
        file.tracks.map(({ name, length_m, trip }, i) => (
          <p key={`${file.file} ${i}`}>
            {name ?? "A track without a name"}: {(length_m / 1000).toFixed(1)} km,{" "}
            {trip === null ? "and no trip in the logbook at its time" : `on the trip of ${dayLong(trip)}`}.
          </p>
        )),
      )}
      {report.remembered.length === 0 ? null : (
        <p>Columns are read as you chose for such a table before: {report.remembered.join(", ")}.</p>
      )}
      {[...report.cautions.map(({ text }) => text), ...report.assumptions].map((text) => (
        <p key={text}>{withoutFlags(text)}</p>
      ))}
      <Refused report={report} onSave={onSaveRefused} />
      {tables ? <Columns report={report} mapping={mapping} onMap={onMap} /> : null}
      {tables || readings.files.length > 0 ? <ImportChoices choices={choices} onChoose={onChoose} /> : null}
      <p className="row">
        <Button className="main" isDisabled={nothing} onPress={onBringIn}>
          Bring it in
        </Button>
        <Button onPress={onLeave}>Leave it</Button>
      </p>
    </section>
  )
}

function TablesRead({ report }: { readonly report: ImportPlanReport }) {
  return (
    <p className="after">
      {counted(report.records, "row")} read, {report.rod_hours.toFixed(1)} rod-hours,{" "}
      {counted(report.landed, "landed fish", "landed fish")}, {counted(report.blank_trips, "blank trip")}.
      {report.already_there.length === 0
        ? ""
        : ` ${counted(report.already_there.length, "row")} ${report.already_there.length === 1 ? "is" : "are"} there already.`}
      {report.conflicts.length === 0
        ? ""
        : ` ${counted(report.conflicts.length, "row")} tell another count for a stint already told.`}
    </p>
  )
}

/** How each column of the tables is read, and a choice to read it otherwise. */
function Columns({
  report,
  mapping,
  onMap,
}: {
  readonly report: ImportPlanReport
  readonly mapping: Mapping
  readonly onMap: (mapping: Mapping) => void
}) {
  return (
    <Fold title="How each column is read">
      <div className="wide" role="region" aria-label="How each column is read" tabIndex={0}>
        <table className="text">
          <thead>
            <tr>
              <th>Column</th>
              <th className="words">read as</th>
              <th className="words">how</th>
              <th className="words">or rather</th>
            </tr>
          </thead>
          <tbody>
            {report.columns.map(({ file, column, target, reading }) => (
              <tr key={`${file} ${column}`}>
                <td>{column}</td>
                <td className="words">{target ?? "left out"}</td>
                <td className="words soft">{reading}</td>
                <td className="words">
                  <ReadAs column={column} mapping={mapping} onMap={onMap} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Fold>
  )
}

/** Rows that cannot be taken, with the reason of each, and a file of them to mend. */
function Refused({
  report: { refused, refused_rows },
  onSave,
}: {
  readonly report: ImportPlanReport
  readonly onSave: () => void
}) {
  if (refused_rows === 0) return null
  return (
    <Fold title={`${counted(refused_rows, "row")} cannot be taken`} unfolded>
      <ul className="plainlist">
        {refused.slice(0, shownRefusals).map(({ file, line, column, value, reason }) => (
          <li key={`${file} ${line} ${column ?? ""}`}>
            Line {line}
            {column === null ? "" : `, column ${column}`}
            {value === null ? "" : `: "${value}"`}: {reason}
          </li>
        ))}
      </ul>
      <p className="row">
        {refused.length > shownRefusals ? <span>and {refused.length - shownRefusals} more. </span> : null}
        <Button onPress={onSave}>Save them as a file to mend</Button>
      </p>
    </Fold>
  )
}
