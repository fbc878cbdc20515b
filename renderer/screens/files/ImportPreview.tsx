import { Button, Disclosure, DisclosurePanel, Heading } from "react-aria-components"
import type { ImportPlanReport } from "../../../shared/imports.ts"
import { counted, listed } from "../../../shared/figures.ts"
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
  const { creates, readings } = report
  const nothing = creates.stints === 0 && readings.adds === 0
  return (
    <section aria-label="Preview">
      <h3 className="said">
        {nothing
          ? `${listed(names)} would add nothing.`
          : `${listed(names)} would add ${[
              ...(creates.stints > 0
                ? [`${counted(creates.stints, "stint")} on ${counted(creates.trips, "trip")}`]
                : []),
              ...(readings.adds > 0
                ? [`${counted(readings.adds, "reading")} to ${counted(readings.trips, "trip")}`]
                : []),
            ].join(", and ")}.`}
      </h3>
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
      {report.remembered.length === 0 ? null : (
        <p>Columns are read as you chose for such a table before: {report.remembered.join(", ")}.</p>
      )}
      {[...report.cautions.map(({ text }) => text), ...report.assumptions].map((text) => (
        <p key={text}>{withoutFlags(text)}</p>
      ))}
      <Refused report={report} onSave={onSaveRefused} />
      <Disclosure className="fold">
        <Heading level={3}>
          <Button slot="trigger">How each column is read</Button>
        </Heading>
        <DisclosurePanel>
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
        </DisclosurePanel>
      </Disclosure>
      <ImportChoices choices={choices} onChoose={onChoose} />
      <p className="row">
        <Button className="main" isDisabled={nothing} onPress={onBringIn}>
          Bring it in
        </Button>
        <Button onPress={onLeave}>Leave it</Button>
      </p>
    </section>
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
    <Disclosure className="fold" defaultExpanded>
      <Heading level={3}>
        <Button slot="trigger">{counted(refused_rows, "row")} cannot be taken</Button>
      </Heading>
      <DisclosurePanel>
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
      </DisclosurePanel>
    </Disclosure>
  )
}
