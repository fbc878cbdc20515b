import { go } from "../../app/route.ts"
import { useAct } from "../../client/useAct.ts"
import { useCall } from "../../client/useCall.ts"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { BackupTable } from "./BackupTable.tsx"

/** A logbook that is damaged: its backups, any of which can take its place; what stands there is kept beside it. */
export function Rescue({ logbook }: { readonly logbook: string }) {
  const backups = useCall("desk.backups", { logbook })
  const restore = useAct("desk.restore")
  if (backups.value === null) return null
  return (
    <section aria-label={`Backups of ${logbook}`}>
      <h2>Backups of {logbook}</h2>
      {backups.value.length === 0 ? (
        <p>There is none. Keep the file as it is: what is sound in it may still be read by other means.</p>
      ) : (
        <>
          <p>
            Put one in its place, best the newest; the damaged file is kept beside it. Each is looked through
            before it is taken.
          </p>
          <BackupTable
            backups={backups.value}
            busy={restore.running}
            onRestore={(name) =>
              void restore.run({ logbook, name }).then((done) => done && go({ at: "logbook" }))
            }
          />
        </>
      )}
      {restore.problem === null ? null : <ProblemText problem={restore.problem} />}
    </section>
  )
}
