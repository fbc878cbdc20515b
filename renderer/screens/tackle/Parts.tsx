import { type Piece, pieceKinds } from "../../../shared/pieces.ts"
import type { Tackle } from "../../../shared/tackle.ts"
import { useCall } from "../../client/useCall.ts"
import { useSave } from "../../client/useSave.ts"
import { Fold } from "../../parts/Fold.tsx"
import { KeptField } from "../../parts/KeptField.tsx"
import { Pieces } from "./Pieces.tsx"

/** Lure classes, lures, rigs and retrieves: what presentations are made of, each with its use. */
export function Parts({
  tackle: { classes },
  onCopy,
}: {
  readonly tackle: Tackle
  readonly onCopy: (from: Piece) => void
}) {
  const save = useSave("tackle.save")
  const pieces = useCall("pieces.list", {}).value
  return (
    <section className="tackle-parts">
      <h2>What they are made of</h2>
      <Fold title={`Lure classes (${classes.length})`}>
        <ul className="plainlist">
          {classes.map(({ id, name, presentations }) => (
            <li key={id} className="row">
              <KeptField
                label={`Name of the class ${name}`}
                hidden
                value={name}
                onKeep={(typed) =>
                  typed.trim() === ""
                    ? Promise.resolve("A lure class wants a name.")
                    : save({ what: "lure_class", id, name: typed.trim() })
                }
              />
              <span className="soft small">{presentations} in the box</span>
            </li>
          ))}
        </ul>
        <p className="soft small">A new class is made by naming it in a line: class glide bait.</p>
      </Fold>
      {pieces === null
        ? null
        : pieceKinds.map((what) => <Pieces key={what} what={what} pieces={pieces[what]} onCopy={onCopy} />)}
    </section>
  )
}
