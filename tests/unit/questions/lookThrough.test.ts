import { expect, test } from "vitest"
import { poisson, stream, uniform } from "../../../core/stats/random.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { compared, lookedThrough } from "./compared.ts"

// The hook shank matters; the rest does not. Every trip fishes the same.
const stints = Array.from({ length: 24 }, (_, i) =>
  [0, 1, 2, 3].map((k) => ({
    trip: `trip ${i}`,
    fish: (k % 2 === 0 ? 3 : 0) + ((i + k) % 3 === 0 ? 1 : 0),
    factors: {
      hook_shank: k % 2 === 0 ? "long" : "short",
      line: k < 2 ? "tight" : "slack",
      month: 1 + (i % 6),
      platform: "kayak",
    },
  })),
).flat()

test("factors with two known levels are looked at, sorted by p", () => {
  const looked = lookedThrough(stints, { outcome: "landed_rate" })
  expect(looked.looked_at).toBe(3)
  expect(looked.factors.map(({ factor }) => factor).toSorted()).toEqual(["hook_shank", "line", "month"])
  expect(looked.factors[0]).toMatchObject({ factor: "hook_shank", basis: "same_trip", kind: "categorical" })
  const p = looked.factors.map((factor) => factor.p ?? 2)
  expect(p).toEqual(p.toSorted((a, b) => a - b))
})

test("a factor of two levels has its pair's p, one of thin levels its smallest pair's times the pairs, and q allows for the factors", () => {
  const looked = lookedThrough(stints, { outcome: "landed_rate" })
  for (const { factor, basis, p, size } of looked.factors) {
    const answer = compared(stints, { outcome: "landed_rate", by: factor })
    const contrasts = answer.contrasts.filter((contrast) => contrast.basis === basis)
    const least = contrasts.toSorted((x, y) => (x.p ?? 2) - (y.p ?? 2))[0]
    // a question asked alone may tell thin levels by a likelihood ratio, a look through never does: here none is thin; the months
    // have four trips each, too few for a test of all of them
    expect(p).toBeCloseTo(Math.min(1, (least?.p ?? 1) * contrasts.length), 10)
    expect(size?.ratio).toBeCloseTo(least?.ratio ?? Number.NaN, 10)
    expect(size?.low).toBeCloseTo(least?.low ?? Number.NaN, 10)
    expect(size?.high).toBeCloseTo(least?.high ?? Number.NaN, 10)
  }
  expect(looked.factors[0]?.q).toBeCloseTo(3 * (looked.factors[0]?.p ?? 0), 12)
})

// Over the round of the tide the catch rises and falls by a quarter, made up by a fixed seed.
const overTheTide = (() => {
  const random = stream(18, "over the tide")
  return Array.from({ length: 60 }, (_, i) =>
    Array.from({ length: 8 }, (_k, k) => ({
      trip: `trip ${i}`,
      fish: poisson(random, 0.7 * Math.exp(0.25 * Math.cos((k / 4) * Math.PI))),
      factors: {
        tide_phase_rad: ((k + 0.5) / 8) * 2 * Math.PI,
        scented: uniform(random) < 0.5 ? "yes" : "no",
      },
    })),
  ).flat()
})()

test("a factor of many levels is one test of all of them, which may show what no two of them show", () => {
  const looked = lookedThrough(overTheTide, { outcome: "landed_rate" })
  const tide = looked.factors.find(({ factor }) => factor === "tide_phase_rad")
  const contrasts = compared(overTheTide, { outcome: "landed_rate", by: "tide_phase_rad" }).contrasts.filter(
    ({ basis }) => basis === tide?.basis,
  )
  const ofPairs = Math.min(...contrasts.map(({ p }) => p ?? 1)) * contrasts.length
  expect(contrasts).toHaveLength(28)
  expect(tide?.p).toBeLessThan(0.05)
  expect(ofPairs).toBeGreaterThan(0.05)
  expect(tide?.sentence).toMatch(
    /^Leaning\. In the same trips, .* Taken together its levels differ \(q 0\.\d\d\), more surely than any two of them\./,
  )
})

test("a factor's sentence uses its q, not its p", () => {
  const looked = lookedThrough(stints, { outcome: "landed_rate" })
  const sentences = Object.fromEntries(looked.factors.map(({ factor, sentence }) => [factor, sentence]))
  expect(sentences["hook_shank"]).toMatch(/^Strong\. /)
  expect(sentences["month"]).not.toMatch(/^(Fair|Strong)/)
})

test("sentences and named pairs are in the reader's units, what was found is not", () => {
  const atDegrees = (water_temp_c: number, fish: number) =>
    Array.from({ length: 20 }, (_, i) => ({
      trip: `${i} at ${water_temp_c}`,
      fish: fish + (i % 2),
      factors: { water_temp_c },
    }))
  const both = [...atDegrees(10, 0), ...atDegrees(20, 4)]
  const metric = lookedThrough(both, { outcome: "landed_rate" }).factors[0]
  const us = lookedThrough(both, { outcome: "landed_rate" }, presets.us).factors[0]
  expect(metric?.size?.of).toBe("18-<24 °C over <12 °C")
  expect(us?.size?.of).toBe("64-<75 °F over <54 °F")
  expect(us?.sentence).toMatch(
    /^Strong\. Good and bad days allowed for, water temperature: 64-<75 °F against <54 °F, 9\.0 times/,
  )
  expect([us?.p, us?.q, us?.size?.ratio]).toEqual([metric?.p, metric?.q, metric?.size?.ratio])
})

test("that water is predicted is said once, where tides or currents are among the factors", () => {
  const wet = stints.map((stint, i) => ({
    ...stint,
    factors: {
      ...stint.factors,
      tide_stage: i % 3 === 0 ? "rising" : "falling",
      tide_rate_m_h: i % 3 === 0 ? 0.2 : -0.2,
      current_stage: i % 5 === 0 ? "flood" : "ebb",
    },
  }))
  const told = (some: typeof stints) =>
    lookedThrough(some, { outcome: "landed_rate" }).cautions.map(({ text }) => text)
  expect(told(wet)).toEqual([
    expect.stringMatching(
      /^Tides and currents worked out here are predicted, not observed.*not for navigation/,
    ),
  ])
  expect(told(stints)).toEqual([])
})
