import { expect, test } from "vitest"
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

test("a factor's p is its smallest pair's times the pairs, and q allows for the factors", () => {
  const looked = lookedThrough(stints, { outcome: "landed_rate" })
  for (const { factor, p, size } of looked.factors) {
    const basis = looked.factors.find((one) => one.factor === factor)?.basis
    const answer = compared(stints, { outcome: "landed_rate", by: factor })
    const contrasts = answer.contrasts.filter((contrast) => contrast.basis === basis)
    const least = contrasts.toSorted((x, y) => (x.p ?? 2) - (y.p ?? 2))[0]
    // a question asked alone may tell thin levels by a likelihood ratio, a look through never does: here none is thin
    expect(p).toBeCloseTo(Math.min(1, (least?.p ?? 1) * contrasts.length), 10)
    expect(size?.ratio).toBeCloseTo(least?.ratio ?? Number.NaN, 10)
    expect(size?.low).toBeCloseTo(least?.low ?? Number.NaN, 10)
    expect(size?.high).toBeCloseTo(least?.high ?? Number.NaN, 10)
  }
  expect(looked.factors[0]?.q).toBeCloseTo(3 * (looked.factors[0]?.p ?? 0), 12)
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
