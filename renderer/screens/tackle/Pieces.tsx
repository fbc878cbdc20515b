import { useState } from "react"
import { Button } from "react-aria-components"
import { counted } from "../../../shared/figures.ts"
import type { Piece, PieceKind } from "../../../shared/pieces.ts"
import { dayLong } from "../../charts/clock.ts"
import { useCall } from "../../client/useCall.ts"
import { useSave } from "../../client/useSave.ts"
import { Fold } from "../../parts/Fold.tsx"
import { KeptField } from "../../parts/KeptField.tsx"
import { RecordHistory } from "../../parts/RecordHistory.tsx"
import { sayRate } from "./rates.ts"

const titles = { lure: "Lures", rig: "Rigs", retrieve: "Retrieves" } as const satisfies Record<
  PieceKind,
  string
>

/** All lures, rigs or retrieves, each to be opened. */
export function Pieces({
  what,
  pieces,
  onCopy,
}: {
  readonly what: PieceKind
  readonly pieces: readonly Piece[]
  readonly onCopy: (from: Piece) => void
}) {
  return (
    <Fold title={`${titles[what]} (${pieces.length})`}>
      {pieces.length === 0 ? (
        <p className="soft">None yet: a {what} is made with the first presentation that has one.</p>
      ) : (
        pieces.map((piece) => <OnePiece key={piece.id} what={what} piece={piece} onCopy={onCopy} />)
      )}
    </Fold>
  )
}

function OnePiece({
  what,
  piece,
  onCopy,
}: {
  readonly what: PieceKind
  readonly piece: Piece
  readonly onCopy: (from: Piece) => void
}) {
  return (
    <Fold
      title={
        <>
          {piece.name} <span className="soft small">{useOf(piece)}</span>
        </>
      }
      level={4}
      look="piece"
    >
      <PieceDetail what={what} piece={piece} onCopy={onCopy} />
    </Fold>
  )
}

const useOf = ({ presentations, stints, retired }: Piece): string =>
  [
    counted(presentations.length, "presentation"),
    counted(stints, "stint"),
    ...(retired ? ["retired"] : []),
  ].join(", ")

/** One piece: its parts to be changed, what it came to, what is made with it, and what can be done with it. */
function PieceDetail({
  what,
  piece: { id, name, words, fields, presentations, stints, trips, last, retired },
  piece,
  onCopy,
}: {
  readonly what: PieceKind
  readonly piece: Piece
  readonly onCopy: (from: Piece) => void
}) {
  const save = useSave("pieces.save")
  const retire = useSave("pieces.retire")
  const [problem, setProblem] = useState<string | null>(null)
  const inUse = presentations.filter((one) => !one.retired)
  return (
    <div className="piece-detail">
      {words === name || words === "" ? null : <p>{words}.</p>}
      <Result what={what} id={id} />
      {last === null ? null : (
        <p className="soft">
          {counted(stints, "stint")} on {counted(trips, "trip")}, last on {dayLong(last)}.
        </p>
      )}
      <div className="kept-fields">
        {fields.map(({ part, label, text, choices }) => (
          <KeptField
            key={part}
            label={label}
            value={text}
            onKeep={(typed) => save({ what, id, part, text: typed })}
            {...(choices.length === 0 ? {} : { suggestions: choices })}
          />
        ))}
      </div>
      <p className="soft small">
        {presentations.length === 0
          ? "No presentation has it."
          : `A change holds in ${presentations.length === 1 ? "its presentation" : `all ${presentations.length} presentations that have it`}, and for the days already logged with ${presentations.length === 1 ? "it" : "them"}. For something new, copy and change.`}
      </p>
      {presentations.length === 0 ? null : (
        <ul className="plainlist">
          {presentations.map((one) => (
            <li key={one.id}>
              {one.name}
              {one.retired ? <span className="soft small"> retired</span> : null}
            </li>
          ))}
        </ul>
      )}
      <p className="row">
        <Button onPress={() => onCopy(piece)}>Copy and change</Button>
        {presentations.length === 0 ? null : (
          <Button
            onPress={() => void retire({ what, id, retired: !retired }).then((said) => setProblem(said))}
          >
            {retired
              ? "Bring its presentations back"
              : `Retire with ${inUse.length === 1 ? "its presentation" : `its ${inUse.length} presentations`}`}
          </Button>
        )}
      </p>
      {problem === null ? null : (
        <p className="wrong small" role="alert">
          {problem}
        </p>
      )}
      <RecordHistory entity={what} id={id} />
    </div>
  )
}

/** What it landed per rod-hour, as fished. */
function Result({ what, id }: { readonly what: PieceKind; readonly id: string }) {
  const { value, asking, problem } = useCall("pieces.result", { what, id })
  if (problem !== null) return <p className="wrong">{problem.message}</p>
  if (value === null)
    return (
      <p className="soft">
        {asking ? "Its result is being worked out." : "No stint of a closed, complete trip tells of it yet."}
      </p>
    )
  return <p>{sayRate(value)}</p>
}
