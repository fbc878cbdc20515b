// The sample logbook through the whole product: what was planted is found, what was staged to mislead does not mislead.
// Truth: core/demo/planted.ts and core/demo/truth.ts.
import { expect, test } from "vitest"
import type { z } from "zod"
import { answerAsk } from "../../../core/questions/ask.ts"
import { planted } from "../../../core/demo/planted.ts"
import { isComparison, isLookThrough, type Answer } from "../../../shared/answer.ts"
import type { Ask } from "../../../shared/questions.ts"
import { sampleFacts } from "../../reference/sampleAnswers/sampleTable.ts"
import { askOf } from "./factsOf.ts"

const facts = await sampleFacts()
const ask = (asked: z.input<typeof Ask>): Answer => {
  const told = answerAsk(facts, askOf(asked))
  if (!isComparison(told)) throw new Error("a comparison was asked for")
  return told
}
const jig = "soft plastic on a jig head"
const twoClasses = (outcome: "landed_rate" | "strike_rate", other: string) =>
  ask({
    outcome,
    by: "lure_class",
    where: [
      { factor: "lure_class", level: jig },
      { factor: "lure_class", level: other },
    ],
  })
/** The contrast on the basis the answer leads with, of `a` over another level where it is named, turned to be of `a`. */
function led({ contrasts, headline }: Answer, a: string, over?: string) {
  const found = contrasts.find(
    ({ basis, ...pair }) =>
      basis === headline.basis &&
      (over === undefined || [pair.a, pair.b].toSorted().join() === [a, over].toSorted().join()),
  )
  if (found === undefined) throw new Error("nothing leads")
  const { ratio, low, high } = found
  if (found.a === a) return { ratio: ratio ?? NaN, low: low ?? 0, high: high ?? Infinity }
  return { ratio: 1 / (ratio ?? NaN), low: 1 / (high ?? Infinity), high: 1 / (low ?? 0) }
}
const claims = ["Fair", "Strong"]
const landedBeside = (name: keyof typeof planted.strikesByClass): number => {
  const of = (own: keyof typeof planted.strikesByClass) =>
    planted.strikesByClass[own] * planted.hookedPerStrike[own] * planted.landedPerHooked[own]
  return of(name) / of(jig)
}

test.each(["topwater walker", "spoon", "suspending twitch bait", "slow-sinking twitch bait"] as const)(
  "%s beside a jig: it is not called better, and the leading interval is near what it really lands",
  (name) => {
    const { low, high } = led(twoClasses("landed_rate", name), name)
    const truth = landedBeside(name)
    expect(low).toBeLessThan(Math.max(1, truth))
    // one logbook: of a dozen 95% intervals one may well miss, none by half its width
    const slack = Math.sqrt(Math.sqrt(high / low))
    expect(low / slack).toBeLessThan(truth)
    expect(high * slack).toBeGreaterThan(truth)
  },
)

test("a walker thrown at first light only is not called better, though first light is", () => {
  const answer = twoClasses("landed_rate", "topwater walker")
  expect(answer.headline.basis).not.toBe("raw")
  expect(led(answer, "topwater walker").low).toBeLessThan(1)
  const light = ask({ outcome: "strike_rate", by: "light" })
  expect(led(light, "first light", "day").low).toBeGreaterThan(1)
})

test("the spoon's one red-letter day is named, and the comparison does not follow it", () => {
  const answer = twoClasses("landed_rate", "spoon")
  const raw = answer.contrasts.find(({ basis }) => basis === "raw")
  expect(raw?.ratio).toBeGreaterThan(2)
  expect(led(answer, "spoon").ratio).toBeLessThan(1.1)
  expect(answer.sentence).toContain("fished more on good days")
  expect(answer.cautions.map(({ text }) => text).join(" ")).toMatch(/2025-10-24 carries spoon/)
})

test("the better angler's favourite and the patience it gets do not make it better than others of its class", () => {
  const answer = ask({
    outcome: "strike_rate",
    by: "presentation",
    where: [
      { factor: "presentation", level: "suspending minnow natural" },
      { factor: "presentation", level: "suspending minnow bright" },
    ],
  })
  expect(claims).not.toContain(answer.verdict)
})

test("first stints at a stop meet unspooked fish, and the lure thrown first gets no credit for it", () => {
  const order = ask({ outcome: "strike_rate", by: "order_in_stop", cuts: [2] })
  const truth = planted.strikesByTurn.first / planted.strikesByTurn.later
  const { low, high } = led(order, "<2")
  expect(low).toBeGreaterThan(1)
  expect(low).toBeLessThan(truth)
  expect(high).toBeGreaterThan(truth)
  const stick = led(twoClasses("strike_rate", "slow-sinking twitch bait"), "slow-sinking twitch bait")
  expect(stick.low).toBeLessThan(1)
})

test("pauses that should lengthen in cold water are found, though over the year the short pause looks best", () => {
  const answer = ask({ outcome: "strike_rate", by: "pause_s", depends_on: "water_temp_c" })
  expect(answer.interaction?.p).toBeLessThan(0.01)
  expect(answer.sentence).toMatch(/^It depends on water temperature/)
  const least = answer.depends?.cells.filter(({ level }) => level === "<2") ?? []
  const most = answer.depends?.cells.filter(({ level }) => level === ">=8") ?? []
  const ratioAt = (at: string) =>
    (most.find((cell) => cell.at === at)?.raw ?? NaN) / (least.find((cell) => cell.at === at)?.raw ?? NaN)
  expect(ratioAt("12-<18")).toBeGreaterThan(ratioAt(">=24"))
})

test("a client who counts no misses has no share, and trips that are not whole no rate", () => {
  const share = ask({ outcome: "hook_up_share", by: "angler" })
  expect(share.levels.map(({ level }) => level)).not.toContain("Corwin")
  const rate = ask({ outcome: "landed_rate", by: "angler", basis: "raw" })
  expect(rate.data.left_out.find(({ reason }) => reason === "trip_not_complete")?.stints).toBeGreaterThan(0)
})

test.each(["colour", "head_weight_g", "moon_illum", "cloud_okta", "barometer_hpa"] as const)(
  "%s, which has no effect, is not claimed to have one",
  (by) => {
    const answer = ask({ outcome: "landed_rate", by, where: [{ factor: "lure_class", level: jig }] })
    expect(claims).not.toContain(answer.verdict)
  },
)

test("topwater strikes are hooked less often, and that is found", () => {
  const share = twoClasses("landed_rate", "topwater walker")
  expect(share.refused).toBeNull()
  const hooked = ask({
    outcome: "hook_up_share",
    by: "lure_class",
    where: [
      { factor: "lure_class", level: jig },
      { factor: "lure_class", level: "topwater walker" },
    ],
  })
  const truth = planted.hookedPerStrike["topwater walker"] / planted.hookedPerStrike[jig]
  const { low, high } = led(hooked, "topwater walker")
  expect(high).toBeLessThan(1)
  expect(low).toBeLessThan(truth)
  expect(hooked.beside).toMatch(/hook-ups per rod-hour/)
})

test("a look through finds what is planted and hardly anything that is not", () => {
  const told = answerAsk(facts, askOf({ outcome: "strike_rate", by: "all" }))
  if (!isLookThrough(told)) throw new Error("a look through was asked for")
  const found = told.factors.filter(({ q }) => q !== null && q <= 0.1).map(({ factor }) => factor)
  expect(found).toContain("order_in_stop")
  for (const none of [
    "colour",
    "head_weight_g",
    "moon_illum",
    "moon_phase_rad",
    "barometer_3h_hpa",
    "cloud_okta",
  ])
    expect(found).not.toContain(none)
})
