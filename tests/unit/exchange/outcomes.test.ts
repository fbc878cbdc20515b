import fc from "fast-check"
import { expect, test } from "vitest"
import { outcomesOf } from "../../../core/exchange/outcomes.ts"
import type { Fate } from "../../../shared/vocabulary.ts"

const fates = (strikes: number | null, hook_ups: number | null, landed: number | null) => {
  const outcomes = outcomesOf([{ species: null, strikes, hook_ups, landed }])
  return Object.fromEntries(outcomes.strikes.map(({ fate, times }) => [fate, times]))
}

test("counts become fates, and where less is known the fate says so", () => {
  expect(fates(6, 4, 3)).toEqual({ landed: 3, lost: 1, missed: 2 })
  expect(fates(6, 4, null)).toEqual({ hooked: 4, missed: 2 })
  expect(fates(6, null, 3)).toEqual({ landed: 3, "not landed": 3 })
  expect(fates(null, 4, 3)).toEqual({ landed: 3, lost: 1 })
  expect(fates(6, null, null)).toEqual({ struck: 6 })
  expect(fates(null, 4, null)).toEqual({ hooked: 4 })
  expect(fates(null, null, 3)).toEqual({ landed: 3 })
  expect(fates(null, null, null)).toEqual({})
})

test("zeros and equal ends fill the blanks between, and nothing else does", () => {
  const counted = (strikes: number | null, hook_ups: number | null, landed: number | null) =>
    outcomesOf([{ species: null, strikes, hook_ups, landed }]).counted
  const all = { misses: true, losses: true, landed: true }
  expect(counted(0, null, null)).toEqual(all)
  expect(counted(null, 0, null)).toEqual({ ...all, misses: false })
  expect(fates(3, null, 3)).toEqual({ landed: 3 })
  expect(counted(null, null, 0)).toEqual({ misses: false, losses: false, landed: true })
  expect(counted(null, null, null)).toEqual({ misses: false, losses: false, landed: false })
})

/** What stint_fact makes of strikes and flags, in the words of DEVELOPERS.md. */
function known(
  strikes: readonly { fate: Fate; times: number }[],
  counted: Record<"misses" | "losses" | "landed", boolean>,
) {
  const sum = (...wanted: Fate[]) =>
    strikes.filter(({ fate }) => wanted.includes(fate)).reduce((total, { times }) => total + times, 0)
  const total = strikes.reduce((all, { times }) => all + times, 0)
  const landedKnown = counted.landed && sum("struck", "hooked") === 0
  const hookedKnown = counted.losses && counted.landed && sum("struck", "not landed") === 0
  return {
    strikes: counted.misses && counted.losses && counted.landed ? total : null,
    hook_ups: hookedKnown ? sum("landed", "lost", "bitten off", "hooked") : null,
    landed: landedKnown ? sum("landed") : null,
  }
}

test("no count that was given is lost, and none that was not given is made up", () => {
  const counts = fc
    .tuple(fc.nat(6), fc.nat(6), fc.nat(6), fc.boolean(), fc.boolean(), fc.boolean())
    .map(([missed, lost, landed, s, h, l]) => ({
      species: null,
      strikes: s ? missed + lost + landed : null,
      hook_ups: h ? lost + landed : null,
      landed: l ? landed : null,
    }))
  fc.assert(
    fc.property(counts, (given) => {
      const { strikes, counted } = outcomesOf([given])
      const found = known(strikes, counted)
      const { strikes: s, hook_ups: h, landed: l } = given
      expect(found.strikes).toBe(s)
      const equalEnds = s !== null && s === l
      expect(found.hook_ups).toBe(h ?? (s === 0 || equalEnds ? s : null))
      expect(found.landed).toBe(l ?? (s === 0 || h === 0 ? 0 : null))
    }),
  )
})

test("strikes and hook-ups of all fish go with landed fish by species", () => {
  const { strikes, counted } = outcomesOf([
    { species: null, strikes: 9, hook_ups: 6, landed: null },
    { species: "red drum", strikes: null, hook_ups: null, landed: 2 },
    { species: "seatrout", strikes: null, hook_ups: null, landed: 1 },
  ])
  expect(strikes).toEqual([
    { fate: "landed", species: "red drum", times: 2 },
    { fate: "landed", species: "seatrout", times: 1 },
    { fate: "lost", species: null, times: 3 },
    { fate: "missed", species: null, times: 3 },
  ])
  expect(counted).toEqual({ misses: true, losses: true, landed: true })
})
