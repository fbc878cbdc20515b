import { expect, test } from "vitest"
import { estimateFigure, levelNames, outcomeUnit } from "../../../shared/figures.ts"
import { cutLabels, octantLabels } from "../../../core/questions/levels.ts"
import { factorIds, factorOf, factors, type FactorId } from "../../../shared/factors.ts"
import { presets, type ReaderUnits } from "../../../shared/readerUnits.ts"

const { metric, us } = presets

const namesOf = (by: FactorId, levels: readonly string[], reader: ReaderUnits = metric): string[] =>
  levels.map(levelNames(by, levels, reader))

test("levels are read in the reader's units, cuts rounded where they stay apart", () => {
  // 12, 18, 24 degC = 53.6, 64.4, 75.2 degF (NIST SP 811, B.9, from memory).
  const levels = cutLabels([12, 18, 24])
  expect(namesOf("water_temp_c", levels)).toEqual(["<12 °C", "12-<18 °C", "18-<24 °C", ">=24 °C"])
  expect(namesOf("water_temp_c", levels, us)).toEqual(["<54 °F", "54-<64 °F", "64-<75 °F", ">=75 °F"])
})

test("negative cuts keep their sign", () => {
  // 0.3 m/h = 0.984 ft/h, 0.05 m/h = 0.164 ft/h.
  expect(namesOf("tide_rate_m_h", cutLabels([-0.3, -0.05, 0.05, 0.3]), us)).toEqual([
    "<-0.98 ft/h",
    "-0.98-<-0.16 ft/h",
    "-0.16-<0.16 ft/h",
    "0.16-<0.98 ft/h",
    ">=0.98 ft/h",
  ])
})

test("cuts asked for close to one another get the decimals that tell them apart, the same in every level", () => {
  const levels = cutLabels([12, 12.2])
  expect(namesOf("water_temp_c", levels, us)).toEqual(["<53.60 °F", "53.60-<53.96 °F", ">=53.96 °F"])
})

test("every level of every factor has a name of its own, in all units, that agrees with its neighbour's", () => {
  for (const reader of [metric, us])
    for (const id of factorIds) {
      const factor = factorOf(id)
      if (factor.kind !== "continuous" && factor.kind !== "cyclic") continue
      const labels = factor.kind === "continuous" ? cutLabels(factor.cuts) : octantLabels(factor)
      const names = namesOf(id, labels, reader)
      expect(new Set(names).size, id).toBe(labels.length)
      if (factor.kind === "cyclic" || factor.whole) continue
      const edges = names.map((name) => name.match(/-?\d+(?:\.\d+)?/g) ?? [])
      const upper = edges.slice(0, -1).map((edge) => edge.at(-1))
      const lower = edges.slice(1).map((edge) => edge[0])
      expect(upper, id).toEqual(lower)
    }
})

test("counts are read as counts, and the levels themselves stay cuts", () => {
  expect(cutLabels(factors.rods.cuts)).toEqual(["<2", "2-<3", ">=3"])
  expect(namesOf("rods", cutLabels(factors.rods.cuts))).toEqual(["1", "2", "3 or more"])
  expect(namesOf("actions_per_cycle", cutLabels([2, 3, 4]), us)).toEqual(["1", "2", "3", "4 or more"])
  expect(namesOf("order_in_stop", cutLabels([2, 3, 5]))).toEqual(["1", "2", "3 to 4", "5 or more"])
  expect(namesOf("days_rested", [...cutLabels([2, 7]), "others"])).toEqual([
    "1",
    "2 to 6",
    "7 or more",
    "all others together",
  ])
})

test("cuts between counts, or below the first, name the counts that the level holds", () => {
  expect(namesOf("rods", cutLabels([2.5, 3.5]))).toEqual(["1 to 2", "3", "4 or more"])
  expect(namesOf("rods", cutLabels([-3, 2]))).toEqual(["<-3", "1", "2 or more"])
  expect(namesOf("rods", cutLabels([0.5]))).toEqual(["<0.5", "1 or more"])
  expect(namesOf("rods", cutLabels([2.2, 2.7]))).toEqual(["1 to 2", "2.2-<2.7", "3 or more"])
})

test("words, months, angles and the rest of the levels have no unit to choose", () => {
  expect(namesOf("lure_class", ["spoon"], us)).toEqual(["spoon"])
  expect(namesOf("month", ["3"], us)).toEqual(["March"])
  expect(namesOf("sun_altitude_deg", ["<-6"], us)).toEqual(["<-6 °"])
  expect(namesOf("water_temp_c", ["others"], us)).toEqual(["all others together"])
})

test("lengths are estimated in the reader's unit, and no other outcome changes with it", () => {
  expect(estimateFigure("length_mm", 411.6, metric)).toBe("412")
  expect(estimateFigure("length_mm", 411.6, us)).toBe("16.2") // 411.6 / 25.4 = 16.20
  expect([outcomeUnit("length_mm", metric), outcomeUnit("length_mm", us)]).toEqual(["mm", "in"])
  expect(estimateFigure("landed_rate", 0.348, us)).toBe(estimateFigure("landed_rate", 0.348, metric))
  expect(outcomeUnit("landed_rate", us)).toBe("fish per rod-hour")
})

test("winds are read by the points between which they come from, the levels themselves stay degrees", () => {
  const levels = octantLabels(factors.wind_dir_deg)
  expect(levels[0]).toBe("0-<45")
  expect(namesOf("wind_dir_deg", levels)).toEqual([
    "N to NE",
    "NE to E",
    "E to SE",
    "SE to S",
    "S to SW",
    "SW to W",
    "W to NW",
    "NW to N",
  ])
  expect(namesOf("wind_dir_deg", ["others"])).toEqual(["all others together"])
})

test("eighths of a round are read by what lies there, the levels themselves stay numbers", () => {
  const read = (id: "tide_phase_rad" | "moon_phase_rad" | "hour_local" | "day_of_year") =>
    namesOf(id, octantLabels(factors[id]))
  expect(octantLabels(factors.tide_phase_rad)[3]).toBe("2.356-<3.142")
  expect(read("tide_phase_rad")).toEqual([
    "first quarter of the rise",
    "second quarter of the rise",
    "third quarter of the rise",
    "last quarter of the rise",
    "first quarter of the fall",
    "second quarter of the fall",
    "third quarter of the fall",
    "last quarter of the fall",
  ])
  // Full moon at the mean is 14.8 days after new (Meeus, from memory).
  expect(read("moon_phase_rad").slice(3, 5)).toEqual(["11 to 15 days old", "15 to 18 days old"])
  expect(read("hour_local").slice(5)).toEqual(["15:00 to 18:00", "18:00 to 21:00", "21:00 to 24:00"])
  const days = read("day_of_year")
  expect([days[0], days[1], days[7]]).toEqual(["Jan 1 to Feb 14", "Feb 15 to Apr 1", "Nov 16 to Dec 31"])
})
