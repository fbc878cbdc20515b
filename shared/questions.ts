import { z } from "zod"
import { factorIds, factors, isFactorId, type FactorId } from "./factors.ts"
import { ReaderUnits } from "./readerUnits.ts"

export const outcomes = [
  "landed_rate",
  "strike_rate",
  "hook_up_share",
  "landing_share",
  "any_fish",
  "hang_up_rate",
  "length_mm",
] as const
export type Outcome = (typeof outcomes)[number]

/** What an answer stands on: as fished; other factors held alike; within trips; within stops. */
export const bases = ["raw", "adjusted", "same_trip", "same_stop"] as const
export type Basis = (typeof bases)[number]

const notAFactor = (value: string): string =>
  `"${value}" is not a factor. Factors are: ${factorIds.join(", ")}.`

const factorId = z.string().transform((value, context): FactorId => {
  if (isFactorId(value)) return value
  context.addIssue({ code: "custom", message: notAFactor(value) })
  return z.NEVER
})
const factorIdOrAll = z.string().transform((value, context): FactorId | "all" => {
  if (value === "all" || isFactorId(value)) return value
  context.addIssue({ code: "custom", message: notAFactor(value) })
  return z.NEVER
})

/**
 * A question to the logbook. `species` empty means all fish; several are taken together. `where` keeps stints at one
 * of the named levels of a factor. `cuts` (SI, ascending) replace a continuous factor's own.
 */
export const Ask = z
  .object({
    /** Which of a factor's levels give more; where fish are lost from look to landed; how long to give a spot. */
    question: z
      .enum(["compare", "steps", "patience"], { error: "A question is compare, steps or patience." })
      .default("compare"),
    outcome: z.enum(outcomes, { error: `An outcome is one of ${outcomes.join(", ")}.` }),
    by: factorIdOrAll,
    species: z.array(z.string().min(1)).default([]),
    where: z.array(z.object({ factor: factorId, level: z.string().min(1) })).default([]),
    effort: z.enum(["all", "target"], { error: "Effort is all or target." }).default("all"),
    cuts: z
      .array(z.number({ error: "Cuts are numbers, such as 12,18,24." }))
      .min(1)
      .nullable()
      .default(null),
    basis: z
      .enum(bases, { error: `A basis is one of ${bases.join(", ")}.` })
      .nullable()
      .default(null),
    given: z.array(factorId).nullable().default(null),
    depends_on: factorId.nullable().default(null),
    /** The difference worth having, as a ratio. */
    worth: z
      .number()
      .gt(1)
      .max(20)
      .default(4 / 3),
  })
  .check((context) => {
    const { cuts, by, effort, species } = context.value
    const refuse = (path: string, message: string) =>
      context.issues.push({ code: "custom", input: context.value, path: [path], message })
    if (cuts !== null && cuts.some((cut, i) => i > 0 && cut <= (cuts[i - 1] ?? cut)))
      refuse("cuts", `The cuts ${cuts.join(", ")} must rise from each to the next.`)
    if (cuts !== null && (by === "all" || factors[by].kind !== "continuous"))
      refuse("cuts", `Cuts go with one continuous factor; "${by}" has fixed levels.`)
    const { given, depends_on, by: compared } = context.value
    if (given?.some((factor) => factor === compared) === true)
      refuse("given", `"${compared}" is what is compared; it cannot be held alike.`)
    if (depends_on !== null && (depends_on === compared || compared === "all"))
      refuse("depends_on", "A factor can depend on another one only.")
    if (context.value.question !== "compare" && compared === "all")
      refuse("by", "This question takes one factor.")
    if (effort === "target" && species.length === 0)
      refuse("effort", "Effort on target trips needs a species: name the one that was targeted.")
  })
export type Ask = z.infer<typeof Ask>

/**
 * A question as it is put: besides, the units in which the answer's sentence and cautions are told, the logbook's own where
 * none are named. What is found does not depend on them, and its numbers and levels are in SI.
 */
export const AskInUnits = Ask.safeExtend({ units: ReaderUnits.optional() })
