import { expect, test } from "vitest"
import { diagnostics } from "../../../renderer/charts/diagnostics.ts"
import { printInk } from "../../../renderer/charts/ink.ts"
import { compared } from "../questions/compared.ts"
import { overTrips } from "../questions/factsOf.ts"

const ink = printInk(16)
const stints = ["jig", "cork"].flatMap((lure_class, lure) =>
  overTrips("trip", 20, (i) => ({
    strikes: Array.from({ length: (i + lure) % 4 }, (_, k) => ({
      fate: (i + k) % 3 === 0 ? ("missed" as const) : ("landed" as const),
    })),
    factors: { lure_class },
  })),
)

test("counts seen are the stints', and those expected sum to as many", () => {
  const answer = compared(stints, { outcome: "strike_rate", by: "lure_class" })
  const told = answer.working?.diagnostics
  if (told?.kind !== "counts") throw new Error("Counts were asked for.")
  expect(told.counts.map(({ observed }) => observed)).toEqual([10, 10, 10, 10])
  expect(told.counts.reduce((sum, { expected }) => sum + expected, 0)).toBeCloseTo(40, 6)
  const drawn = diagnostics(answer, ink, 800)
  expect(drawn?.title).toContain("strikes")
  expect(drawn?.table.rows.map(([count, seen]) => [count, seen])).toEqual([
    ["0", "10"],
    ["1", "10"],
    ["2", "10"],
    ["3 or more", "10"],
  ])
  expect(drawn?.said).toContain("0: 10 seen")
})

test("shares seen are those of the trials, and what lies outside luck is told", () => {
  const answer = compared(stints, { outcome: "hook_up_share", by: "lure_class" })
  const told = answer.working?.diagnostics
  if (told?.kind !== "shares") throw new Error("Shares were asked for.")
  const trials = told.bins.reduce((sum, bin) => sum + bin.trials, 0)
  expect(trials).toBe(answer.data.trials)
  expect(told.bins.reduce((sum, bin) => sum + bin.observed * bin.trials, 0)).toBeCloseTo(
    answer.data.events,
    9,
  )
  const drawn = diagnostics(answer, ink, 800)
  expect(drawn?.table.head).toEqual(["Expected", "Seen", "Within luck", "Strikes"])
  expect(drawn?.said).toMatch(/\d+ of \d+ lie farther out than luck alone would leave them\.$/)
})

test("lengths and answers without a model have no such picture", () => {
  expect(
    diagnostics(compared(stints, { outcome: "strike_rate", by: "lure_class", basis: "raw" }), ink, 800),
  ).toBeNull()
  const lengths = stints.map((own) => ({
    ...own,
    strikes: own.strikes?.map((strike, k) => ({ ...strike, length_mm: 400 + 10 * k })) ?? [],
  }))
  expect(diagnostics(compared(lengths, { outcome: "length_mm", by: "lure_class" }), ink, 800)).toBeNull()
})
