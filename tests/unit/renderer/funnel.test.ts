import { expect, test } from "vitest"
import { answerAsk } from "../../../core/questions/ask.ts"
import { funnel } from "../../../renderer/charts/funnel.ts"
import { printInk } from "../../../renderer/charts/ink.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { askOf, factsOf, overTrips } from "../questions/factsOf.ts"

const told = (follows: number | undefined) => {
  const stints = ["long", "short"].flatMap((hook_shank, k) =>
    overTrips("trip", 12, () => ({
      strikes: [
        { fate: "landed" as const },
        { fate: "lost" as const },
        { fate: "missed" as const },
        { fate: "missed" as const },
      ],
      ...(follows === undefined ? {} : { follows: follows + k }),
      factors: { hook_shank },
    })),
  )
  const found = answerAsk(
    factsOf(stints),
    askOf({ question: "steps", outcome: "strike_rate", by: "hook_shank" }),
  )
  if (!("question" in found) || found.question !== "steps") throw new Error("steps were asked for")
  return found
}

test("each step is told per rod-hour and as a part of the one before, with intervals", () => {
  const { table, said, title } = funnel(told(4), presets.metric, printInk(16), 800)
  const long = table.rows.filter(([level]) => level === "long")
  expect(long.map(([, step, rate, , share]) => [step, rate, share])).toEqual([
    ["follows", "4.0", "-"],
    ["strikes", "4.0", "50%"],
    ["hook-ups", "2.0", "50%"],
    ["landed", "1.0", "50%"],
  ])
  for (const [, , , interval] of table.rows) expect(interval).toMatch(/ to |upper limit/)
  expect(said).toMatch(/long, landed: 1\.0 per rod-hour \(.* to .*\), 50% of the step before/)
  expect(title).toContain("per rod-hour")
})

test("without follows the chain begins at the strikes", () => {
  const { table } = funnel(told(undefined), presets.metric, printInk(16), 420)
  expect(table.rows.map(([, step]) => step)).not.toContain("follows")
  expect(table.rows.find(([, step]) => step === "strikes")?.[4]).toBe("-")
})
