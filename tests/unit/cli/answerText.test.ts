import { expect, test } from "vitest"
import { answerText, lookThroughText } from "../../../core/cli/answerText.ts"
import { axisFromZero, intervalStrip } from "../../../core/cli/intervalStrip.ts"
import { textTable, wrapText } from "../../../core/cli/textTable.ts"
import type { Answer } from "../../../shared/answer.ts"
import { outcomes } from "../../../shared/questions.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { compared, lookedThrough } from "../questions/compared.ts"
import { overTrips, type StintRecord } from "../questions/factsOf.ts"

const { metric, us } = presets

const on = (trips: number, lure_class: string, fish: (trip: number) => number): StintRecord[] =>
  overTrips("trip", trips, (i) => ({
    strikes: Array.from({ length: fish(i) }, (_, k) => ({
      fate: k === 2 ? "lost" : "landed",
      length_mm: 300 + 10 * i,
    })),
    hang_ups: i % 2,
    factors: { lure_class },
  }))
const stints = [
  ...on(14, "soft plastic on a jig head, dark, weedless", (i) => i % 4),
  ...on(14, "popping-cork rig", (i) => (i % 3) * 2),
  ...on(5, "spoon", () => 0),
  ...on(1, "fly", () => 2),
  { trip: "not counted", counted: { landed: null }, factors: { lure_class: "spoon" } } satisfies StintRecord,
]
const landed = { outcome: "landed_rate", by: "lure_class" } as const
const widest = (text: string) => Math.max(...text.split("\n").map((line) => line.length))

test.each([60, 80, 132])("every outcome fits %i columns and says nothing that is not a number", (width) => {
  for (const outcome of outcomes) {
    const text = answerText(compared(stints, { outcome, by: "lure_class" }), width, metric)
    expect(widest(text), text).toBeLessThanOrEqual(width)
    expect(text).not.toMatch(/NaN|Infinity|undefined|null|e[+-]\d/)
  }
})

test("the sentence comes first, then the question, two cautions, the table and what stands behind it", () => {
  const answer = compared(stints, landed)
  const text = answerText(answer, 80, metric)
  const flat = text.replaceAll(/\s+/g, " ")
  const places = [
    answer.sentence,
    "Fish per rod-hour by lure class",
    `! ${answer.cautions[0]?.text}`,
    `! ${answer.cautions[1]?.text}`,
    "95% interval",
    "compared",
    "What stands behind it: 14 trips, 34 stints, 34 rod-hours",
    "1 stint in which the outcome was not counted",
    `! ${answer.cautions[2]?.text}`,
    "How: ",
  ].map((part) => flat.indexOf(part))
  expect(places.every((place) => place >= 0)).toBe(true)
  expect(places).toEqual(places.toSorted((a, b) => a - b))
  expect(places[0]).toBe(0)
})

test("every interval stands in numbers, the naive one beneath it", () => {
  const lines = answerText(compared(stints, landed), 100, metric).split("\n")
  const cork = lines.findIndex((line) => line.startsWith("popping-cork rig"))
  expect(lines[cork]).toMatch(/^popping-cork rig +\d\.\d\d +\d\.\d+ to \d\.\d+ +-+\*-+ +14 +14\.0 +\d+$/)
  expect(lines[cork + 1]).toMatch(/^ +\d\.\d+ to \d\.\d+ +\.+$/)
})

test("an open dot marks a level under twelve trips", () => {
  const lines = answerText(compared(stints, landed), 100, metric).split("\n")
  expect(lines.find((line) => line.startsWith("fly"))).toMatch(/o/)
  expect(lines.find((line) => line.startsWith("fly"))).not.toMatch(/\*/)
})

test("an end that does not exist is said in words", () => {
  const answer = compared([...on(1, "jig", () => 2), ...on(1, "cork", () => 1)], landed)
  expect(answer.levels[0]?.raw.high).toBeNull()
  const text = answerText(answer, 80, metric)
  expect(text).toContain("no upper limit")
  expect(text).toMatch(/jig over cork +2\.0 +none +- +-/)
})

test("a refusal is its sentence and what was left out", () => {
  const text = answerText(compared([{ trip: "a", complete: false, hours: 2 }], landed), 80, metric)
  expect(text).toMatch(/^No stint can be used\./)
  expect(text.replaceAll(/\s+/g, " ")).toContain(
    "Left out: 1 stint on trips that do not hold all of their effort.",
  )
  expect(text).not.toContain("95% interval")
})

test("pairs of more than three levels are cut to those with the level fished most", () => {
  const answer: Answer = compared([...stints, ...on(6, "twitch bait", () => 1)], {
    ...landed,
    basis: "raw",
  })
  expect(answer.contrasts).toHaveLength(10)
  const text = answerText(answer, 80, metric)
  expect(text.match(/ over /g)).toHaveLength(4)
  expect(text).toContain("(6 other pairs: see --json)")
})

test("looking through shows every factor with its evidence", () => {
  const both = stints.map((stint, i) => ({
    ...stint,
    factors: { ...stint.factors, light: i % 2 ? "day" : "night" },
  }))
  const text = lookThroughText(lookedThrough(both, { outcome: "landed_rate" }), 80)
  expect(text).toMatch(/^Looked through 2 factors for fish per rod-hour/)
  expect(text).toMatch(/^Lure class /m)
  expect(text).toMatch(/^Light +(day over night|night over day) /m)
  expect(widest(text)).toBeLessThanOrEqual(80)
  expect(lookThroughText(lookedThrough([], { outcome: "any_fish" }), 200)).toContain(
    "No factor has two known levels yet.",
  )
})

test("a strip shows where an interval goes on beyond the axis", () => {
  const axis = axisFromZero([{ estimate: 1, low: 0.5, high: 100 }])
  expect(axis).toEqual({ from: 0, to: 2.5 })
  expect(intervalStrip({ estimate: 1, low: 0.5, high: 100 }, axis, 11, "-", "*")).toBe(
    "  --*-----> ".trimEnd(),
  )
  expect(intervalStrip({ estimate: 1, low: 0.5, high: null }, axis, 11, "-", "*")).toBe("  --*----->")
  expect(intervalStrip({ estimate: 1, low: null, high: null }, axis, 11, "-", "*")).toBe("    *")
})

test("text is wrapped at blanks and tables keep a cell's leading blanks", () => {
  expect(wrapText("one two three", 7)).toEqual(["one two", "three"])
  expect(wrapText("abcdefghij", 4)).toEqual(["abcd", "efgh", "ij"])
  expect(
    textTable(
      [
        { title: "a", align: "left" },
        { title: "b", align: "right" },
      ],
      [["  x", "10"]],
      20,
    ),
  ).toEqual(["a     b", "  x  10"])
})

test("sentence, cautions, table, title and ratios are in the reader's units, and the answer's own levels are not", () => {
  const atDegrees = (water_temp_c: number) =>
    overTrips(`trip at ${water_temp_c}`, 6, (i) => ({
      strikes: Array.from({ length: 1 + (i % 2) }, () => ({
        fate: "landed" as const,
        length_mm: 458 + 20 * i,
      })),
      factors: { water_temp_c },
    }))
  const stints = [...atDegrees(10), ...atDegrees(20)]
  const ask = { outcome: "length_mm", by: "water_temp_c" } as const
  const inMetric = answerText(compared(stints, ask, metric), 120, metric)
  const answer = compared(stints, ask, us)
  const inUs = answerText(answer, 120, us)
  expect(inMetric).toContain("Mean length (mm) of landed fish by water temperature")
  expect(inUs).toContain("Mean length (in) of landed fish by water temperature")
  // 12, 18 and 24 degC = 53.6, 64.4 and 75.2 degF; the mean of 458, 478 (2), 498, 518 (2), 538
  // and 558 (2) mm is 511.3 mm = 20.1 in.
  expect(inMetric).toMatch(/^<12 °C +511 +\d{3} to \d{3} /m)
  expect(inUs).toMatch(/^<54 °F +20\.1 +1\d\.\d to 2\d\.\d /m)
  expect(inUs).toMatch(/^64-<75 °F over <54 °F/m)
  expect(inMetric).toMatch(/^18-<24 °C over <12 °C/m)
  expect(inUs.replaceAll(/\s+/g, " ")).toMatch(/without it (the ratio|(<54|64-<75) °F) comes to/)
  expect(inUs).not.toMatch(/°C|\bmm\b/)
  expect(inMetric).not.toMatch(/°F|\bin\)|\d in\b/)
  expect(answer.levels.map(({ level }) => level)).toContain("18-<24")
  expect(answer.unit).toBe("mm")
})

test("the table and the sentence call a level by one name, however close its cuts are", () => {
  const at = (water_temp_c: number) =>
    overTrips("trip", 6, (i) => ({ fish: 1 + (i % 2), factors: { water_temp_c } }))
  const ask = { outcome: "landed_rate", by: "water_temp_c", cuts: [12, 12.2] } as const
  const answer = compared([...at(11), ...at(12.1), ...at(13)], { ...ask, cuts: [...ask.cuts] }, us)
  const names = answerText(answer, 132, us).match(/\d\d[\d.<-]* °F/g) ?? []
  expect(new Set(names)).toEqual(new Set(["53.60 °F", "53.60-<53.96 °F", "53.96 °F"]))
  expect(answer.sentence).toContain("53.60-<53.96 °F")
})

test("looking through lengths names no unit, as it shows ratios only", () => {
  const text = lookThroughText(lookedThrough(stints, { outcome: "length_mm" }), 80)
  expect(text).toMatch(/^Looked through 1 factor for the length of landed fish\./)
})
