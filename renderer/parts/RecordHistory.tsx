import type { Output } from "../../shared/api.ts"
import { useCall } from "../client/useCall.ts"
import { Fold } from "./Fold.tsx"
import { ProblemText } from "./ProblemText.tsx"
import { moment } from "./moment.ts"

/** How a record came to be what it is: each change with its time and what it changed; asked for when it is unfolded. */
export function RecordHistory({ entity, id }: { readonly entity: string; readonly id: string }) {
  return (
    <Fold title="History">
      <Versions entity={entity} id={id} />
    </Fold>
  )
}

function Versions({ entity, id }: { readonly entity: string; readonly id: string }) {
  const versions = useCall("history.of", { entity, id })
  return (
    <>
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
    </>
  )
}

type Change = Output<"history.of">[number]["changes"][number]

const shown = (value: Change["before"]): string =>
  value === null || value === undefined
    ? "nothing"
    : typeof value === "string"
      ? value
      : JSON.stringify(value)
