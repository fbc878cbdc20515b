import { useState } from "react"
import { Button, Disclosure, DisclosurePanel, Heading } from "react-aria-components"
import type { Output } from "../../shared/api.ts"
import { useCall } from "../client/useCall.ts"
import { ProblemText } from "./ProblemText.tsx"
import { moment } from "./moment.ts"

/** How a record came to be what it is: each change with its time and what it changed; asked for when it is unfolded. */
export function RecordHistory({ entity, id }: { readonly entity: string; readonly id: string }) {
  const [open, setOpen] = useState(false)
  const versions = useCall("history.of", open ? { entity, id } : null)
  return (
    <Disclosure className="fold" isExpanded={open} onExpandedChange={setOpen}>
      <Heading level={3}>
        <Button slot="trigger">History</Button>
      </Heading>
      <DisclosurePanel>
        {versions.problem === null ? null : <ProblemText problem={versions.problem} />}
        <ul className="plainlist small">
          {(versions.value ?? []).map((version) => (
            <li key={`${version.act} ${version.at}`}>
              <span className="soft">{moment(version.at)}</span> {version.said}
              {version.changes.map((change) => (
                <span key={change.column} className="under soft">
                  {change.column.replaceAll("_", " ")}: {shown(change.before)} → {shown(change.after)}
                </span>
              ))}
            </li>
          ))}
        </ul>
      </DisclosurePanel>
    </Disclosure>
  )
}

type Change = Output<"history.of">[number]["changes"][number]

const shown = (value: Change["before"]): string =>
  value === null || value === undefined
    ? "nothing"
    : typeof value === "string"
      ? value
      : JSON.stringify(value)
