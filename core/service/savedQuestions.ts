import { isComparison, isLookThrough, Told } from "../../shared/answer.ts"
import type { CallContext, Handlers, Parsed } from "../../shared/api.ts"
import { ProblemError } from "../../shared/problems.ts"
import { Ask } from "../../shared/questions.ts"
import type { KeptAnswer, SavedQuestion } from "../../shared/savedQuestions.ts"
import { methodVersion } from "../questions/ask.ts"
import { leadOf } from "../questions/keptLead.ts"
import { sinceThen } from "../questions/sinceThen.ts"
import type { Logbook } from "../store/logbook.ts"
import { add, put, removeById, rowById, type OpenChange } from "../store/put.ts"
import { answersKept, questionsKept, recordChanges } from "../store/read/savedQuestions.ts"
import type { Queue } from "./queue.ts"

type Area = Pick<Handlers, "questions.saved" | "questions.keep" | "questions.forget" | "questions.rerun">

/** Asks a question of the logbook as it stands. */
type AskNow = (ask: Ask, context: CallContext) => Promise<Told>

/** Questions kept by name: asked again at will, each answer kept with its day. */
export const savedQuestionHandlers = (book: Logbook, queue: Queue, change: Queue, ask: AskNow): Area => ({
  "questions.saved": () => queue(async () => saved(book)),
  "questions.keep": (wanted) => change(async () => book.change((open) => keep(open, wanted))),
  "questions.forget": ({ id }) =>
    change(async () =>
      book.change((open) => {
        requireQuestion(open, id)
        removeById(open, "question", id)
        return { act: open.batch }
      }),
    ),
  "questions.rerun": async ({ id }, context) => {
    const { question, changes } = await queue(async () => ({
      question: savedOne(book, id),
      changes: book.read(recordChanges),
    }))
    const answer = await ask(question.ask, context)
    const act = await change(async () =>
      book.change((open) => {
        requireQuestion(open, id)
        add(open, "answer", {
          question_id: id,
          told_at: open.at,
          changes,
          method: methodVersion,
          answer: JSON.stringify(answer),
        })
        return open.batch
      }),
    )
    const now = await queue(async () => savedOne(book, id))
    const [latest, before] = now.answers
    return {
      question: now,
      since: latest === undefined || before === undefined ? null : sinceThen(before, latest, dayOf),
      act,
    }
  },
})

const dayOf = (instant: number): string =>
  new Intl.DateTimeFormat("en", { dateStyle: "long", timeZone: "UTC" }).format(instant)

function keep(
  open: OpenChange,
  { id, name, ask, note }: Parsed<"questions.keep">,
): { id: string; act: string } {
  requireFreeName(open, name, id)
  if (id === undefined) {
    if (name === undefined || ask === undefined)
      throw new ProblemError("bad_input", "A question to keep needs a name and what it asks.", {})
    return {
      id: add(open, "question", { name, ask: JSON.stringify(ask), note: emptyAsNull(note) }),
      act: open.batch,
    }
  }
  const before = requireQuestion(open, id)
  put(open, "question", {
    ...before,
    name: name ?? before.name,
    ask: ask === undefined ? before.ask : JSON.stringify(ask),
    note: note === undefined ? before.note : emptyAsNull(note),
  })
  return { id, act: open.batch }
}

const emptyAsNull = (text: string | null | undefined): string | null => (text === "" ? null : (text ?? null))

function requireFreeName(open: OpenChange, name: string | undefined, id: string | undefined): void {
  const other = questionsKept(open.db).find((kept) => kept.name === name && kept.id !== id)
  if (other !== undefined)
    throw new ProblemError(
      "bad_input",
      `A question named "${other.name}" is kept already. Give this one another name.`,
      { name: other.name },
    )
}

function requireQuestion(open: OpenChange, id: string) {
  const row = rowById(open.db, "question", id)
  if (row === null || row.deleted_at !== null) throw noQuestion(id)
  return row
}

const noQuestion = (id: string): ProblemError =>
  new ProblemError("bad_input", "That question is not kept any more. Go back to the list.", { question: id })

const saved = (book: Logbook, id: string | null = null): SavedQuestion[] =>
  book.read((db) => {
    const answers = Map.groupBy(answersKept(db, id), ({ question_id }) => question_id)
    const changes = recordChanges(db)
    return questionsKept(db, id).map(({ ask, ...question }) => {
      const told = answers.get(question.id) ?? []
      return {
        ...question,
        ask: Ask.parse(JSON.parse(ask)),
        answers: told.map(keptAnswer),
        grown: told[0] === undefined || told[0].changes !== changes,
      }
    })
  })

function savedOne(book: Logbook, id: string): SavedQuestion {
  const [found] = saved(book, id)
  if (found === undefined) throw noQuestion(id)
  return found
}

/** What is told of a kept answer; of one that a newer version has kept in another form, that it cannot be read. */
function keptAnswer({ id, told_at, method, answer }: ReturnType<typeof answersKept>[number]): KeptAnswer {
  const parsed = Told.safeParse(JSON.parse(answer))
  const shared = { id, told_at, method }
  if (!parsed.success)
    return { ...shared, trips: 0, rod_hours: 0, sentence: "Kept by another version; ask again.", lead: null }
  if (isLookThrough(parsed.data)) {
    const { looked_at, factors } = parsed.data
    return {
      ...shared,
      trips: 0,
      rod_hours: 0,
      sentence: factors[0]?.sentence ?? `${looked_at} factors looked at.`,
      lead: null,
    }
  }
  if (!isComparison(parsed.data))
    return { ...shared, trips: parsed.data.trips, rod_hours: 0, sentence: parsed.data.sentence, lead: null }
  const { data, sentence } = parsed.data
  return { ...shared, trips: data.trips, rod_hours: data.rod_hours, sentence, lead: leadOf(parsed.data) }
}
