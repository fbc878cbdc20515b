import { z } from "zod"

/** What a code may stand for. All codes share one name space, whatever they stand for. */
export const codeKinds = ["spot", "presentation", "species", "angler"] as const
export const CodeKind = z.enum(codeKinds)
export type CodeKind = z.infer<typeof CodeKind>

/** A thing that the tape can name: by its code, or by its name in brackets where it has none. */
export const Coded = z.object({
  kind: CodeKind,
  id: z.string(),
  name: z.string(),
  code: z.string().nullable(),
  /** A presentation's one-letter mark in a ten-minute strip. */
  mark: z.string().nullable(),
  retired: z.boolean(),
})
export type Coded = z.infer<typeof Coded>

/** The same where it may be deleted and is only there to be printed. */
export type CodedEver = Coded & { readonly deleted: boolean }

/** A code or mark that somebody wants to give: to the thing `id`, or to a new one. */
export const CodeWish = z.object({
  kind: CodeKind,
  id: z.string().nullable().default(null),
  /** What it is called, from which a code is suggested. */
  name: z.string().default(""),
  code: z.string().nullable().default(null),
  mark: z.string().nullable().default(null),
})
export type CodeWish = z.infer<typeof CodeWish>

/** Whether they may be given: a sentence where not. `code` and `mark` are free ones to suggest; no mark but for presentations. */
export const CodeVerdict = z.object({
  code_problem: z.string().nullable(),
  mark_problem: z.string().nullable(),
  suggested: z.object({ code: z.string(), mark: z.string().nullable() }),
})
export type CodeVerdict = z.infer<typeof CodeVerdict>

export const codeMethods = {
  /** Everything that has a code or could be given one, by kind and code. */
  "codes.list": { input: z.object({}), output: z.array(Coded) },
  "codes.check": { input: CodeWish, output: CodeVerdict },
} as const
