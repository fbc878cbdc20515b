import { z } from "zod"
import { AnswerJson } from "./answer.ts"
import { Ask } from "./questions.ts"

const id = z.string()

/** The two levels fished most, set against one another on the basis that led: what is compared from one answer to the next. */
export const Lead = AnswerJson.shape.contrasts.element.omit({ p: true, q: true })
export type Lead = z.infer<typeof Lead>

/** An answer as it was told on its day. */
export const KeptAnswer = z.object({
  id,
  told_at: z.int(),
  /** The methods that made it; answers of other methods may differ for that reason alone. */
  method: z.string(),
  trips: z.int(),
  rod_hours: z.number(),
  sentence: z.string(),
  lead: Lead.nullable(),
})
export type KeptAnswer = z.infer<typeof KeptAnswer>

/** A question kept by name, its answers latest first. `grown`: whether the record has changed since the latest. */
export const SavedQuestion = z.object({
  id,
  name: z.string(),
  ask: Ask,
  note: z.string().nullable(),
  answers: z.array(KeptAnswer),
  grown: z.boolean(),
})
export type SavedQuestion = z.infer<typeof SavedQuestion>

export const savedQuestionMethods = {
  "questions.saved": { input: z.object({}), output: z.array(SavedQuestion) },
  /** Keeps a question under a name, or renames or notes a kept one; what is not named stays as it is. */
  "questions.keep": {
    input: z.object({
      id: id.optional(),
      name: z.string().trim().min(1).max(200).optional(),
      ask: Ask.optional(),
      note: z.string().trim().max(10_000).nullable().optional(),
    }),
    output: z.object({ id, act: id }),
  },
  "questions.forget": { input: z.object({ id }), output: z.object({ act: id }) },
  /** Asks it again and keeps the answer. `since` compares it with the one before, in words; null where there is none. */
  "questions.rerun": {
    input: z.object({ id }),
    output: z.object({ question: SavedQuestion, since: z.string().nullable(), act: id }),
  },
} as const
