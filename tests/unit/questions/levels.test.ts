import { expect, test } from "vitest"
import { answerAsk } from "../../../core/questions/ask.ts"
import { isComparison } from "../../../shared/answer.ts"
import { cutLabels, levelsOf, octantLabels } from "../../../core/questions/levels.ts"
import { factors, type FactorId } from "../../../shared/factors.ts"
import { lights } from "../../../shared/vocabulary.ts"
import { askOf, factsOf } from "./factsOf.ts"

const stintsWith = (id: FactorId, values: readonly (string | number)[], hours: readonly number[] = []) =>
  values.map((value, i) => ({ trip: `trip ${i}`, hours: hours[i] ?? 1, factors: { [id]: value } }))

function levelsInAnswer(id: FactorId, values: readonly (string | number)[], hours?: readonly number[]) {
  const answer = answerAsk(factsOf(stintsWith(id, values, hours)), askOf({ outcome: "landed_rate", by: id }))
  if (!isComparison(answer)) throw new Error("a comparison was asked for")
  return answer.levels.map(({ level }) => level)
}

test("cuts are labelled ascending, in SI, in the shortest numbers", () => {
  expect(cutLabels([12, 18, 24])).toEqual(["<12", "12-<18", "18-<24", ">=24"])
  expect(cutLabels([0.5])).toEqual(["<0.5", ">=0.5"])
  expect(cutLabels([-0.3, -0.05, 0.05])).toEqual(["<-0.3", "-0.3-<-0.05", "-0.05-<0.05", ">=0.05"])
})

test("a value on a cut belongs to the stretch above it", () => {
  const facts = factsOf(stintsWith("water_temp_c", [11.9, 12, 17.9, 18, 40]))
  expect([...levelsOf(facts, "water_temp_c").codes]).toEqual([0, 1, 1, 2, 3])
  expect([...levelsOf(facts, "water_temp_c", [18]).codes]).toEqual([0, 0, 0, 1, 1])
})

test("cyclic factors are asked about in octants from 0", () => {
  expect(octantLabels(factors.wind_dir_deg).slice(0, 2)).toEqual(["0-<45", "45-<90"])
  expect(octantLabels(factors.tide_phase_rad).slice(0, 2)).toEqual(["0-<0.785", "0.785-<1.571"])
  expect(octantLabels(factors.hour_local)).toContain("21-<24")
  const facts = factsOf(stintsWith("wind_dir_deg", [0, 44.9, 45, 359, 360, -10]))
  expect([...levelsOf(facts, "wind_dir_deg").codes]).toEqual([0, 0, 1, 7, 0, 7])
})

test("fixed lists come in catalogue order, only the levels fished", () => {
  expect(levelsInAnswer("light", ["last light", "night", "first light"])).toEqual([
    "night",
    "first light",
    "last light",
  ])
  expect(levelsOf(factsOf([]), "light").labels).toEqual(lights)
})

test("free lists come by rod-hours, then by name", () => {
  expect(levelsInAnswer("lure_class", ["spoon", "walker", "jig", "cork"], [1, 5, 1, 2])).toEqual([
    "walker",
    "cork",
    "jig",
    "spoon",
  ])
})

test("whole numbers come in ascending order, not in that of their text", () => {
  expect(levelsInAnswer("month", [11, 9, 10, 2])).toEqual(["2", "9", "10", "11"])
})

test("a factor without a column, or without a value, is unknown", () => {
  expect([...levelsOf(factsOf([{ trip: "a" }]), "spot").codes]).toEqual([-1])
  const facts = factsOf([{ trip: "a", factors: { spot: "bar" } }, { trip: "b" }])
  expect([...levelsOf(facts, "spot").codes]).toEqual([0, -1])
})
