import { memo, useCallback, useMemo } from "react"
import type { Output } from "../../../shared/api.ts"
import { isFactorId } from "../../../shared/factors.ts"
import type { ReaderUnits } from "../../../shared/readerUnits.ts"
import { Choice, type Section } from "../../parts/Choice.tsx"
import {
  basisSections,
  bySections,
  dependsSections,
  isBasis,
  isKind,
  isOutcome,
  kindSections,
  outcomeSections,
  phrases,
  whereSections,
  type Edit,
  type Question,
} from "./question.ts"

/** What becomes of the question by a choice; null where it means nothing. */
type Change = (id: string, before: Question) => Partial<Question> | null

const kind: Change = (id, { by }) =>
  isKind(id) ? { kind: id, by: by === "all" && id !== "compare" ? "lure_class" : by } : null
const outcome: Change = (id) => (isOutcome(id) ? { outcome: id } : null)
const species: Change = (id) => ({ species: id })
const by: Change = (id) => (id === "all" || isFactorId(id) ? { by: id } : null)
const where: Change = (id) => {
  const [factor = "", ...level] = id.split("=")
  return isFactorId(factor) ? { factor, level: level.join("=") } : { factor: "", level: "" }
}
const basis: Change = (id) => ({ basis: isBasis(id) ? id : "" })
const depends: Change = (id) => ({ depends: isFactorId(id) ? id : "" })

/** Everything but a look through all factors, which only a comparison can be. */
const oneFactor: readonly Section[] = bySections.map(({ title, options }) => ({
  title,
  options: options.filter(({ id }) => id !== "all"),
}))

/** The question as a sentence of choosable words. Drawn anew where a word changes, not with every answer. */
export const Sentence = memo(function Sentence({
  question,
  choices,
  units,
  onEdit,
}: {
  readonly question: Question
  readonly choices: Output<"questions.choices"> | null
  readonly units: ReaderUnits
  readonly onEdit: Edit
}) {
  const depending = useMemo(() => dependsSections(question.by), [question.by])
  const wheres = useMemo(() => whereSections(choices?.levels ?? [], units), [choices, units])
  const fish = useMemo(() => speciesSections(choices?.species ?? []), [choices])
  const compares = question.kind === "compare"
  const at = question.factor === "" ? "" : `${question.factor}=${question.level}`
  const { after } = phrases[question.outcome]
  const word = (label: string, sections: readonly Section[], value: string, change: Change) => (
    <Word label={label} sections={sections} value={value} change={change} onEdit={onEdit} />
  )
  return (
    <div className="question">
      {word("Which question", kindSections, question.kind, kind)}{" "}
      {compares ? (
        <>
          {word("What is counted", outcomeSections, question.outcome, outcome)}{" "}
          {after === "" ? "" : `${after}, `}
        </>
      ) : null}
      for {word("Species", fish, question.species, species)}, by{" "}
      {word("Compared by", compares ? bySections : oneFactor, question.by, by)}, in{" "}
      {word("In which conditions", wheres, at, where)}
      {compares && question.by !== "all" ? (
        <>
          , {word("On which basis", basisSections, question.basis, basis)}, depending on{" "}
          {word("Depending on what", depending, question.depends, depends)}
        </>
      ) : null}
      ?
    </div>
  )
})

const speciesSections = (names: readonly string[]): Section[] => [
  { title: "", options: [{ id: "", label: "all fish" }] },
  { title: "", options: names.map((name) => ({ id: name, label: name })) },
]

const Word = memo(function Word({
  label,
  sections,
  value,
  change,
  onEdit,
}: {
  readonly label: string
  readonly sections: readonly Section[]
  readonly value: string
  readonly change: Change
  readonly onEdit: Edit
}) {
  const choose = useCallback((id: string) => onEdit((before) => change(id, before)), [change, onEdit])
  return <Choice label={label} sections={sections} value={value} onChange={choose} />
})
