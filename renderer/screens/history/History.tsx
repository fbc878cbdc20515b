import { Button } from "react-aria-components"
import { useActions } from "../../app/actions.tsx"
import { useAct } from "../../client/useAct.ts"
import { useCall } from "../../client/useCall.ts"
import { CommandKey } from "../../parts/CommandKey.tsx"
import { Problems } from "../../parts/ProblemText.tsx"
import { moment } from "../../parts/moment.ts"

const shown = 50

/** What was done, latest first, what undo and redo would do now, and what was deleted and can be brought back. */
export default function History() {
  const { run } = useActions()
  const next = useCall("history.next", {})
  const acts = useCall("history.list", { count: shown })
  const deleted = useCall("history.deleted", {})
  const back = useAct("history.bring_back")
  const { undo = null, redo = null } = next.value ?? {}
  return (
    <article>
      <h1>History</h1>
      <p className="after">
        Every change is kept: it can be undone, across restarts, and what was deleted comes back.
      </p>
      <p>
        {undo === null ? (
          "Nothing to undo."
        ) : (
          <Button onPress={() => run("history.undo")}>
            Undo: {undo.said} <CommandKey id="history.undo" />
          </Button>
        )}
      </p>
      {redo === null ? null : (
        <p>
          <Button onPress={() => run("history.redo")}>
            Do again: {redo.said} <CommandKey id="history.redo" />
          </Button>
        </p>
      )}
      <Problems of={[next.problem, acts.problem, deleted.problem, back.problem]} />
      <div className="file-sections">
        <section>
          <h2>Deleted</h2>
          {deleted.value === null || deleted.value.length === 0 ? (
            <p className="soft">Nothing is deleted.</p>
          ) : (
            <table>
              <tbody>
                {deleted.value.map(({ entity, id, name, at }) => (
                  <tr key={id}>
                    <th scope="row" className="name">
                      {name}
                      <span className="soft small under">
                        {entity.replaceAll("_", " ")}, {moment(at)}
                      </span>
                    </th>
                    <td className="act">
                      <Button onPress={() => void back.run({ entity, id })}>Bring back</Button>
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          )}
        </section>
        <section>
          <h2>Latest acts</h2>
          <ul className="plainlist">
            {(acts.value ?? []).map(({ act, at, said }) => (
              <li key={act}>
                <span className="soft small">{moment(at)}</span> {said}
              </li>
            ))}
          </ul>
        </section>
      </div>
    </article>
  )
}
