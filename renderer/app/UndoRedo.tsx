import { useCallback, useEffect, useState } from "react"
import { problemOf } from "../../shared/rpc.ts"
import { allKept } from "../client/saving.ts"
import { useClient } from "../client/useClient.ts"
import { CommandKey } from "../parts/CommandKey.tsx"
import { useCommand } from "./actions.tsx"
import { hearActs } from "./toldActs.ts"

/** How long what was undone is told, ms. */
const told = 8000

/** Takes back the last act, whoever did it and however long ago, or does it again; and says in words which it was. */
export function UndoRedo({ open }: { readonly open: boolean }) {
  const client = useClient()
  const [said, setSaid] = useState<{ words: string; undone: boolean } | null>(null)
  const run = useCallback(
    (method: "history.undo_last" | "history.redo") => {
      const undone = method === "history.undo_last"
      // What was typed just before and is still on its way is the last act.
      const done = allKept().then(async () => client.call(method, {}))
      void done.then(
        ({ said: what }) => setSaid({ words: `${undone ? "Undone" : "Done again"}: ${what}.`, undone }),
        (error: unknown) => setSaid({ words: problemOf(error).message, undone }),
      )
    },
    [client],
  )
  useCommand("history.undo", open ? () => run("history.undo_last") : null)
  useCommand("history.redo", open ? () => run("history.redo") : null)
  useEffect(() => hearActs((words) => setSaid({ words, undone: false })), [])
  useEffect(() => {
    if (said === null) return
    const timer = setTimeout(() => setSaid(null), told)
    return () => clearTimeout(timer)
  }, [said])
  return (
    <div className="said-act unprinted" role="status">
      {said === null ? null : (
        <p>
          {said.words}{" "}
          <span className="soft">
            {said.undone ? "Do it again" : "Undo"}{" "}
            <CommandKey id={said.undone ? "history.redo" : "history.undo"} />
          </span>
        </p>
      )}
    </div>
  )
}
