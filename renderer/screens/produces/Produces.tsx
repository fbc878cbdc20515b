import { useCallback, useEffect, useMemo, useRef, useState } from "react"
import { Button, Label, ProgressBar } from "react-aria-components"
import { isComparison, isLookThrough } from "../../../shared/answer.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { useCall } from "../../client/useCall.ts"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { AnswerView } from "./AnswerView.tsx"
import { KeptQuestions } from "./KeptQuestions.tsx"
import { LookThroughView } from "./LookThroughView.tsx"
import { askOf, firstQuestion, type Edit, type Question } from "./question.ts"
import { Sentence } from "./Sentence.tsx"
import { useAnswer } from "./useAnswer.ts"
import { WaitView } from "./WaitView.tsx"

const kept = "stintbook.question"

/** What produces: the question as a sentence of choosable words, and its answer: as fished at once, then as fairly as can be. */
export function Produces() {
  const [question, setQuestion] = useState<Question>(remembered)
  const [cancelled, setCancelled] = useState("")
  useEffect(() => sessionStorage.setItem(kept, JSON.stringify(question)), [question])
  const settings = useCall("settings.read", {})
  const choices = useCall("questions.choices", {})
  const ask = useMemo(() => askOf(question), [question])
  const key = JSON.stringify(ask)
  const { told, late, staged, working, progress, begin } = useAnswer(ask, cancelled === key)
  const latest = useRef(question)
  latest.current = question
  const edit = useCallback<Edit>(
    (change) => {
      const changed = change(latest.current)
      if (changed === null) return
      latest.current = { ...latest.current, ...changed }
      begin(askOf(latest.current))
      setQuestion(latest.current)
    },
    [begin],
  )
  const units = settings.value?.units ?? presets.metric
  const { value, problem } = told
  return (
    <>
      <h1 className="hidden">What produces</h1>
      <Sentence question={question} choices={choices.value} units={units} onEdit={edit} />
      {problem === null ? null : <ProblemText problem={problem} />}
      {working ? (
        <Fairer progress={progress} staged={staged} onCancel={() => setCancelled(key)} />
      ) : cancelled === key ? (
        <p className="row unprinted">
          <span className="soft">As fished only: the fair comparison was cancelled.</span>
          <Button onPress={() => setCancelled("")}>Compare fairly</Button>
        </p>
      ) : null}
      <div aria-busy={late}>
        {value === null || problem !== null ? null : isLookThrough(value) ? (
          <LookThroughView looked={value} onAsk={(by) => edit(() => ({ by }))} />
        ) : isComparison(value) ? (
          <AnswerView answer={value} units={units} worth={question.worth} onEdit={edit} />
        ) : (
          <WaitView told={value} units={units} />
        )}
      </div>
      <KeptQuestions question={question} />
    </>
  )
}

/** That a fair comparison is being worked out, how far it is, and a way to end it. */
function Fairer({
  progress,
  staged,
  onCancel,
}: {
  readonly progress: { readonly done: number; readonly of: number } | null
  readonly staged: boolean
  readonly onCancel: () => void
}) {
  const part = progress === null || progress.of === 0 ? null : (100 * progress.done) / progress.of
  return (
    <div className="row unprinted">
      <ProgressBar {...(part === null ? { isIndeterminate: true } : { value: part })} className="progress">
        <Label>{staged ? "As fished so far; comparing fairly" : "Working it out"}</Label>
      </ProgressBar>
      <Button onPress={onCancel}>Cancel</Button>
    </div>
  )
}

function remembered(): Question {
  try {
    const found: unknown = JSON.parse(sessionStorage.getItem(kept) ?? "null")
    return isQuestion(found) ? found : firstQuestion
  } catch {
    return firstQuestion
  }
}

const isQuestion = (found: unknown): found is Question =>
  typeof found === "object" &&
  found !== null &&
  Object.keys(firstQuestion).every((key) => typeof Reflect.get(found, key) === "string")
