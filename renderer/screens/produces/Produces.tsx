import { useEffect, useMemo, useState } from "react"
import { isComparison, isLookThrough } from "../../../shared/answer.ts"
import { isFactorId } from "../../../shared/factors.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { useCall } from "../../client/useCall.ts"
import { Choice } from "../../parts/Choice.tsx"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { AnswerView } from "./AnswerView.tsx"
import { LookThroughView } from "./LookThroughView.tsx"
import {
  askOf,
  bySections,
  firstQuestion,
  isOutcome,
  outcomeSections,
  phrases,
  whereSections,
  type Question,
} from "./question.ts"

const kept = "stintbook.question"

/** What produces: the question as a sentence of choosable words, and its answer. */
export function Produces() {
  const [question, setQuestion] = useState<Question>(remembered)
  useEffect(() => sessionStorage.setItem(kept, JSON.stringify(question)), [question])
  const settings = useCall("settings.read", {})
  const choices = useCall("questions.choices", {})
  const ask = useMemo(() => askOf(question), [question])
  const answer = useCall("questions.ask", ask)
  const units = settings.value?.units ?? presets.metric
  return (
    <>
      <h1 className="hidden">What produces</h1>
      <Sentence
        question={question}
        choices={choices.value}
        units={units}
        onChange={(part) => setQuestion((before) => ({ ...before, ...part }))}
      />
      {answer.problem === null ? null : <ProblemText problem={answer.problem} />}
      <div aria-busy={answer.asking}>
        {answer.value === null || answer.problem !== null ? null : isLookThrough(answer.value) ? (
          <LookThroughView looked={answer.value} onAsk={(by) => setQuestion({ ...question, by })} />
        ) : isComparison(answer.value) ? (
          <AnswerView answer={answer.value} units={units} />
        ) : null}
      </div>
    </>
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
  readonly choices: Parameters<typeof whereSections>[0] extends infer L
    ? { species: string[]; levels: L } | null
    : never
  readonly units: Parameters<typeof whereSections>[1]
  readonly onChange: (part: Partial<Question>) => void
}) {
  const bys = useMemo(bySections, [])
  const wheres = useMemo(() => whereSections(choices?.levels ?? [], units), [choices, units])
  const species = [
    { title: "", options: [{ id: "", label: "all fish" }] },
    { title: "", options: (choices?.species ?? []).map((name) => ({ id: name, label: name })) },
  ]
  return (
    <div className="question">
      What{" "}
      <Choice
        label="What is counted"
        sections={outcomeSections}
        value={question.outcome}
        onChange={(id) => {
          if (isOutcome(id)) onChange({ outcome: id })
        }}
      />{" "}
      {phrases[question.outcome].after === "" ? "" : `${phrases[question.outcome].after}, `}for{" "}
      <Choice
        label="Species"
        sections={species}
        value={question.species}
        onChange={(id) => onChange({ species: id })}
      />
      , by{" "}
      <Choice
        label="Compared by"
        sections={bys}
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
      , as fished?
    </div>
  )
}
