import { useEffect, useMemo, useState } from "react"
import { Button, Label, ProgressBar } from "react-aria-components"
import type { Output } from "../../../shared/api.ts"
import { isComparison, isLookThrough } from "../../../shared/answer.ts"
import { isFactorId } from "../../../shared/factors.ts"
import { presets, type ReaderUnits } from "../../../shared/readerUnits.ts"
import { useCall } from "../../client/useCall.ts"
import { Choice } from "../../parts/Choice.tsx"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { AnswerView } from "./AnswerView.tsx"
import { LookThroughView } from "./LookThroughView.tsx"
import { KeptQuestions } from "./KeptQuestions.tsx"
import { useAnswer } from "./useAnswer.ts"
import { WaitView } from "./WaitView.tsx"
import {
  askOf,
  basisSections,
  bySections,
  dependsSections,
  firstQuestion,
  isBasis,
  isKind,
  isOutcome,
  kindSections,
  outcomeSections,
  phrases,
  whereSections,
  type Question,
} from "./question.ts"

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
  const { told, late, staged, working, progress } = useAnswer(ask, cancelled === key)
  const units = settings.value?.units ?? presets.metric
  const { value, problem } = told
  return (
    <>
      <h1 className="hidden">What produces</h1>
      <Sentence
        question={question}
        choices={choices.value}
        units={units}
        onChange={(part) => setQuestion((before) => ({ ...before, ...part }))}
      />
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
          <LookThroughView looked={value} onAsk={(by) => setQuestion({ ...question, by })} />
        ) : isComparison(value) ? (
          <AnswerView
            answer={value}
            units={units}
            worth={question.worth}
            onWorth={(worth) => setQuestion({ ...question, worth })}
            onGiven={(given) =>
              setQuestion({
                ...question,
                given: given === null ? "" : given.length === 0 ? "none" : given.join(","),
              })
            }
          />
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

function Sentence({
  question,
  choices,
  units,
  onChange,
}: {
  readonly question: Question
  readonly choices: Output<"questions.choices"> | null
  readonly units: ReaderUnits
  readonly onChange: (part: Partial<Question>) => void
}) {
  const bys = useMemo(bySections, [])
  const depends = useMemo(() => dependsSections(question.by), [question.by])
  const wheres = useMemo(() => whereSections(choices?.levels ?? [], units), [choices, units])
  const species = [
    { title: "", options: [{ id: "", label: "all fish" }] },
    { title: "", options: (choices?.species ?? []).map((name) => ({ id: name, label: name })) },
  ]
  const compares = question.kind === "compare"
  return (
    <div className="question">
      <Choice
        label="Which question"
        sections={kindSections}
        value={question.kind}
        onChange={(id) => {
          if (isKind(id))
            onChange({ kind: id, by: question.by === "all" && id !== "compare" ? "lure_class" : question.by })
        }}
      />{" "}
      {compares ? (
        <>
          <Choice
            label="What is counted"
            sections={outcomeSections}
            value={question.outcome}
            onChange={(id) => {
              if (isOutcome(id)) onChange({ outcome: id })
            }}
          />{" "}
          {phrases[question.outcome].after === "" ? "" : `${phrases[question.outcome].after}, `}
        </>
      ) : null}
      for{" "}
      <Choice
        label="Species"
        sections={species}
        value={question.species}
        onChange={(id) => onChange({ species: id })}
      />
      , by{" "}
      <Choice
        label="Compared by"
        sections={
          compares
            ? bys
            : bys.map(({ title, options }) => ({ title, options: options.filter(({ id }) => id !== "all") }))
        }
        value={question.by}
        onChange={(id) => {
          if (id === "all" || isFactorId(id)) onChange({ by: id })
        }}
      />
      , in{" "}
      <Choice
        label="In which conditions"
        sections={wheres}
        value={question.factor === "" ? "" : `${question.factor}=${question.level}`}
        onChange={(id) => {
          const [factor = "", ...level] = id.split("=")
          onChange(isFactorId(factor) ? { factor, level: level.join("=") } : { factor: "", level: "" })
        }}
      />
      {compares && question.by !== "all" ? (
        <>
          ,{" "}
          <Choice
            label="On which basis"
            sections={basisSections}
            value={question.basis}
            onChange={(id) => onChange({ basis: isBasis(id) ? id : "" })}
          />
          , depending on{" "}
          <Choice
            label="Depending on what"
            sections={depends}
            value={question.depends}
            onChange={(id) => onChange({ depends: isFactorId(id) ? id : "" })}
          />
        </>
      ) : null}
      ?
    </div>
  )
}
