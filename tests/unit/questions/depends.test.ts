import { expect, test } from "vitest"
import { negativeBinomial, normal, stream } from "../../../core/stats/random.ts"
import { isComparison } from "../../../shared/answer.ts"
import { answerAsk } from "../../../core/questions/ask.ts"
import { askOf, factsOf, overTrips } from "./factsOf.ts"

/** Sixty trips of six stints, water from 8 to 30 degC, pauses of 1 to 12 s; strikes follow from both by `log`. */
function logbook(log: (pause: number, temperature: number) => number) {
  const random = stream(20260501, "depends")
  return Array.from({ length: 60 }, (_, trip) => {
    const temperature = 8 + ((trip * 7) % 23)
    const day = 0.4 * normal(random)
    return Array.from({ length: 6 }, (__, k) => {
      const pause = [1, 2, 3, 5, 8, 12][(k + trip) % 6] ?? 1
      const strikes = negativeBinomial(random, 2 * Math.exp(day + log(pause, temperature)), 4)
      return {
        trip: `${trip}`,
        fish: strikes,
        factors: { pause_s: pause, water_temp_c: temperature, light: k % 2 === 0 ? "day" : "first light" },
      }
    })
  }).flat()
}
const asked = (stints: ReturnType<typeof logbook>, depends_on: "water_temp_c" | "light") => {
  const told = answerAsk(
    factsOf(stints),
    askOf({ outcome: "landed_rate", by: "pause_s", depends_on, cuts: [2.5, 6] }),
  )
  if (!isComparison(told)) throw new Error("a comparison was asked for")
  return told
}
const cross = logbook((pause, temperature) => (0.4 * Math.log(pause / 3.5) * (20 - temperature)) / 6)
const alike = logbook((pause) => -0.2 * Math.log(pause))

test("a cadence that pays in cold water and costs in warm is found to depend on temperature, and not on light", () => {
  const { interaction, depends, sentence } = asked(cross, "water_temp_c")
  expect(interaction?.modifier).toBe("water_temp_c")
  expect(interaction?.p).toBeLessThan(0.001)
  expect(sentence).toContain("It depends on water temperature (p below 0.001)")
  const ratios = (depends?.levels ?? []).map(({ ratio }) => ratio ?? Number.NaN)
  // longer over shorter pauses: above 1 in the coldest water, below 1 in the warmest
  expect(ratios[0]).toBeGreaterThan(1)
  expect(ratios.at(-1)).toBeLessThan(1)
  expect(asked(cross, "light").interaction?.p).toBeGreaterThan(0.05)
})

test("the same cadence everywhere is no sign of dependence", () => {
  const { interaction, sentence } = asked(alike, "water_temp_c")
  expect(interaction?.p).toBeGreaterThan(0.05)
  expect(sentence).toContain("No sign that it depends on water temperature")
})

test("every cell has its evidence, and thin ones are drawn towards the rest", () => {
  const cells = asked(cross, "water_temp_c").depends?.cells ?? []
  expect(cells).toHaveLength(3 * 4)
  expect(cells.reduce((sum, { rod_hours }) => sum + rod_hours, 0)).toBeCloseTo(360, 9)
  const mean = cells.reduce((sum, { raw, rod_hours }) => sum + (raw ?? 0) * rod_hours, 0) / 360
  const apart = (value: number | null) => Math.abs((value ?? 0) - mean)
  const drawn = cells.filter(({ estimate, raw }) => apart(estimate) <= apart(raw) + 1e-9)
  expect(drawn.length).toBeGreaterThanOrEqual(11)
})

test("a cell without a fish costs no answer: it is foretold, and the others tell whether it depends", () => {
  const stints = overTrips("trip", 40, (i) => {
    const factors = { lure_class: i % 2 === 0 ? "jig" : "cork", light: i % 8 < 4 ? "day" : "first light" }
    const bare = factors.lure_class === "cork" && factors.light === "first light"
    return { fish: bare || i % 4 === 0 ? 0 : 1 + (i % 3), factors }
  })
  const told = answerAsk(
    factsOf(stints),
    askOf({ outcome: "landed_rate", by: "lure_class", depends_on: "light", given: [] }),
  )
  if (!isComparison(told)) throw new Error("a comparison was asked for")
  expect(told.depends?.cells.find(({ level, at }) => level === "cork" && at === "first light")?.raw).toBe(0)
  expect(told.interaction?.p).toBeLessThan(0.01)
  expect(told.sentence).toContain("It depends on light")
})

test("a modifier that never varies is refused with its reason, and the answer stands without it", () => {
  const told = answerAsk(
    factsOf(
      overTrips("trip", 20, (i) => ({
        fish: i % 3,
        factors: { lure_class: i % 2 === 0 ? "jig" : "cork", light: "day" },
      })),
    ),
    askOf({ outcome: "landed_rate", by: "lure_class", depends_on: "light" }),
  )
  if (!isComparison(told)) throw new Error("a comparison was asked for")
  expect(told.interaction).toEqual({ modifier: "light", p: null })
  expect(told.sentence).toMatch(/Whether it depends on light cannot be told: light does not vary enough/)
})

test("a curve follows what was planted, with a band that holds it, and none where nobody fished", () => {
  const peak = logbook((_, temperature) => -(((temperature - 19) / 8) ** 2))
  const told = answerAsk(factsOf(peak), askOf({ outcome: "landed_rate", by: "water_temp_c" }))
  if (!isComparison(told) || told.curve === null) throw new Error("a curve was asked for")
  const { curve, density } = told
  const best = curve.toSorted((a, b) => b.estimate - a.estimate)[0]
  expect(Math.abs((best?.x ?? 0) - 19)).toBeLessThan(4)
  const truth = (x: number) => 2 * Math.exp(-(((x - 19) / 8) ** 2) + 0.4 ** 2 / 2)
  const held = curve.filter(({ x, low, high }) => low <= truth(x) && truth(x) <= high)
  // pointwise 95%: neighbouring points rise and fall together, so that a whole stretch may be out
  expect(held.length / curve.length).toBeGreaterThan(0.7)
  expect(Math.min(...curve.map(({ x }) => x))).toBeGreaterThanOrEqual(8)
  expect((density ?? []).reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(360, 9)
  const gap = peak.filter(({ factors }) => factors.water_temp_c < 14 || factors.water_temp_c > 22)
  const holed = answerAsk(factsOf(gap), askOf({ outcome: "landed_rate", by: "water_temp_c" }))
  if (!isComparison(holed)) throw new Error("a comparison was asked for")
  expect((holed.curve ?? []).filter(({ x }) => x > 15 && x < 21)).toEqual([])
})
