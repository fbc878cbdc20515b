import { readFileSync } from "node:fs"
import { z } from "zod"
import { answerAsk } from "../../../core/questions/ask.ts"
import { isComparison } from "../../../shared/answer.ts"
import { askOf, factsOf, type StintRecord } from "../../unit/questions/factsOf.ts"

/** R's likelihood-ratio tests of the same logbooks, recorded by depends.R. */
const recorded = z.object({
  r: z.string(),
  glmmTMB: z.string(),
  sha256: z.string(),
  logbooks: z.array(z.object({ logbook: z.int(), p: z.number() })),
})

export const dependsByR = (): z.infer<typeof recorded> =>
  recorded.parse(JSON.parse(readFileSync(new URL("recorded.json", import.meta.url), "utf8")))

/** p of what the pause does depending on water temperature; null where the product does not tell. */
export function pauseByWater(stints: readonly StintRecord[]): number | null {
  const answer = answerAsk(
    factsOf(stints),
    askOf({ outcome: "landed_rate", by: "pause_s", depends_on: "water_temp_c" }),
  )
  return isComparison(answer) ? (answer.interaction?.p ?? null) : null
}
