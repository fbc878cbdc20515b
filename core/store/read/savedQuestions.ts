import type { Database } from "better-sqlite3"
import { z } from "zod"

const Questions = z.array(
  z.object({ id: z.string(), name: z.string(), ask: z.string(), note: z.string().nullable() }),
)
const Answers = z.array(
  z.object({
    id: z.string(),
    question_id: z.string(),
    told_at: z.int(),
    changes: z.int(),
    method: z.string(),
    answer: z.string(),
  }),
)

/** Questions kept by name, in its order; only the one where `id` is given. */
export const questionsKept = (db: Database, id: string | null = null): z.infer<typeof Questions> =>
  Questions.parse(
    db
      .prepare(
        `SELECT id, name, ask, note FROM question
         WHERE deleted_at IS NULL AND id = coalesce(?, id) ORDER BY name COLLATE NOCASE`,
      )
      .all(id),
  )

/** Their answers, latest first. */
export const answersKept = (db: Database, question: string | null = null): z.infer<typeof Answers> =>
  Answers.parse(
    db
      .prepare(
        `SELECT id, question_id, told_at, changes, method, answer FROM answer
         WHERE deleted_at IS NULL AND question_id = coalesce(?, question_id) ORDER BY told_at DESC, id DESC`,
      )
      .all(question),
  )

/** The number of the latest change of the record itself; what is kept of questions is none. */
export const recordChanges = (db: Database): number =>
  z
    .int()
    .parse(
      db
        .prepare("SELECT coalesce(max(id), 0) FROM change WHERE entity NOT IN ('question', 'answer')")
        .pluck()
        .get(),
    )
