import { useState } from "react"
import { Button, Input, Label, TextField } from "react-aria-components"
import type { SavedQuestion } from "../../../shared/savedQuestions.ts"
import { dayLong } from "../../charts/clock.ts"
import { useAct } from "../../client/useAct.ts"
import { useCall } from "../../client/useCall.ts"
import { Fold } from "../../parts/Fold.tsx"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { askOf, type Question } from "./question.ts"

const dayOf = (instant: number): string => dayLong(new Date(instant).toISOString().slice(0, 10))

/** Keeps the question in sight under a name, and asks kept ones again: what was, what is now. */
export function KeptQuestions({ question }: { readonly question: Question }) {
  const kept = useCall("questions.saved", {})
  const keep = useAct("questions.keep")
  const rerun = useAct("questions.rerun")
  const forget = useAct("questions.forget")
  const [name, setName] = useState("")
  const [since, setSince] = useState("")
  const again = (id: string) =>
    void rerun.run({ id }).then((done) => {
      if (done !== null) setSince(done.since ?? `${done.question.name}: kept its first answer.`)
    })
  const save = () =>
    void keep.run({ name, ask: askOf(question) }).then((done) => {
      if (done === null) return
      setName("")
      again(done.id)
    })
  const problem = keep.problem ?? rerun.problem ?? forget.problem
  const list = kept.value ?? []
  return (
    <Fold title={list.length === 0 ? "Keep this question" : `Kept questions (${list.length})`} unprinted>
      <p className="row">
        <TextField value={name} onChange={setName} className="field">
          <Label>Name</Label>
          <Input />
        </TextField>
        <Button onPress={save} isDisabled={name.trim() === "" || keep.running}>
          Keep the question and its answer
        </Button>
      </p>
      <p role="status">{since}</p>
      {problem === null ? null : <ProblemText problem={problem} />}
      <ul className="plain-list">
        {list.map((one) => (
          <KeptOne
            key={one.id}
            kept={one}
            onAgain={() => again(one.id)}
            onForget={() => void forget.run({ id: one.id })}
            onNote={(note) => void keep.run({ id: one.id, note: note === "" ? null : note })}
          />
        ))}
      </ul>
    </Fold>
  )
}

function KeptOne({
  kept,
  onAgain,
  onForget,
  onNote,
}: {
  readonly kept: SavedQuestion
  readonly onAgain: () => void
  readonly onForget: () => void
  readonly onNote: (note: string) => void
}) {
  const [note, setNote] = useState(kept.note ?? "")
  const [latest] = kept.answers
  return (
    <li>
      <b>{kept.name}</b>
      {latest === undefined ? " has no answer yet." : `, ${dayOf(latest.told_at)}: ${latest.sentence}`}
      {kept.grown ? " The record has changed since." : ""}
      <p className="row">
        <Button onPress={onAgain}>Ask {kept.name} again</Button>
        <Button onPress={onForget}>Forget {kept.name}</Button>
        <TextField
          value={note}
          onChange={setNote}
          onBlur={() => note !== (kept.note ?? "") && onNote(note)}
          className="field"
        >
          <Label>Note on {kept.name}</Label>
          <Input />
        </TextField>
      </p>
    </li>
  )
}
