import { readFileSync } from "node:fs"
import { z } from "zod"
import { answerAsk } from "../../../core/questions/ask.ts"
import { benjaminiHochberg } from "../../../core/stats/benjaminiHochberg.ts"
import { isLookThrough } from "../../../shared/answer.ts"
import { askOf, factsOf, type StintRecord } from "../../unit/questions/factsOf.ts"

const fitted = z.object({ log_ratio: z.number(), se: z.number(), p: z.number() })

/** R's own fits of the same logbooks, recorded by light.R: light in the model they were drawn from, and within trips. */
const recorded = z.object({
  r: z.string(),
  glmmTMB: z.string(),
  sha256: z.string(),
  logbooks: z.array(fitted.extend({ p_likelihood_ratio: z.number(), within: fitted })),
})

export const lightByR = (): z.infer<typeof recorded> =>
  recorded.parse(JSON.parse(readFileSync(new URL("recorded.json", import.meta.url), "utf8")))

/** Found: q at most this. */
const MOST_Q = 0.1

/** Of a logbook looked through: p of light and its log ratio, first light over day, and whether light is found, by ours and by R's
 *  two p of light in its place. */
export function lightLookedThrough(
  stints: readonly StintRecord[],
  byR: ReturnType<typeof lightByR>["logbooks"][number],
) {
  const looked = answerAsk(factsOf(stints), askOf({ outcome: "landed_rate", by: "all" }))
  if (!isLookThrough(looked)) throw new Error("a look through everything was asked for")
  const at = looked.factors.findIndex(({ factor }) => factor === "light")
  const light = looked.factors[at]
  if (light === undefined) throw new Error("light is in every logbook")
  const found = (p: number | null): boolean =>
    (benjaminiHochberg(looked.factors.map((one, i) => (i === at ? p : one.p)))[at] ?? 1) <= MOST_Q
  const log = Math.log(light.size?.ratio ?? Number.NaN)
  return {
    p: light.p ?? 1,
    log_ratio: light.size?.of.startsWith("first light") === true ? log : -log,
    found: found(light.p),
    foundByR: found(byR.p),
    foundWithinByR: found(byR.within.p),
  }
}
