// A level without fish has a one-sided bound on every basis that can be had, never a gap.
import { expect, test } from "vitest"
import type { Answer } from "../../../shared/answer.ts"
import { compared } from "./compared.ts"
import { overTrips, type StintRecord } from "./factsOf.ts"

const stint = (lure_class: string, fish: number, stop: number): Omit<StintRecord, "trip"> => ({
  fish,
  stop,
  factors: { lure_class },
})
const twelve = [
  ...overTrips("trip", 12, (i) => stint("jig", 1 + (i % 3), i)),
  ...overTrips("trip", 12, (i) => stint("spoon", 0, i)),
]
const asked = { outcome: "landed_rate", by: "lure_class" } as const
const on = ({ contrasts }: Answer, basis: string) => contrasts.find((own) => own.basis === basis)

test.each(["adjusted", "same_trip", "same_stop"])("%s: 0, from 0 to a bound", (basis) => {
  const found = on(compared(twelve, asked), basis)
  expect(found).toMatchObject({ a: "spoon", b: "jig", ratio: 0, low: 0, p: null })
  // 24 fish of the jig in as many hours: Clopper & Pearson (1934) for 0 of 24 allow 0.166
  expect(found?.high).toBeCloseTo(0.025 ** (-1 / 24) - 1, 2)
})

test("the side without fish may be the earlier one: a low end, and no upper one", () => {
  const turned = compared(
    twelve.map((own) => ({ ...own, hours: own.factors?.["lure_class"] === "spoon" ? 2 : 1 })),
    asked,
  )
  for (const basis of ["same_trip", "same_stop"])
    expect(on(turned, basis)).toMatchObject({ a: "jig", b: "spoon", ratio: null, high: null })
  // twice the hours without a fish say twice as much
  expect(on(turned, "same_trip")?.low).toBeCloseTo(2 / (0.025 ** (-1 / 24) - 1), 1)
  expect(turned.standings.find(({ basis }) => basis === "same_trip")?.text).toContain("at least 12")
})

test("a third lure in the same trips is fitted along, and one trip alone tells nothing", () => {
  const three = compared([...twelve, ...overTrips("trip", 12, (i) => stint("cork", 1 + (i % 2), i))], asked)
  const pairs = three.contrasts.filter(({ basis }) => basis === "same_trip").map(({ a, b }) => `${a} ${b}`)
  expect(pairs).toEqual(["jig cork", "spoon cork", "spoon jig"])
  const once = compared(
    [
      ...twelve.filter(({ factors }) => factors?.["lure_class"] === "jig"),
      { trip: "trip 1", ...stint("spoon", 0, 0) },
    ],
    asked,
  )
  expect(on(once, "same_trip")).toBeUndefined()
  expect(once.standings.find(({ basis }) => basis === "same_trip")?.text).toContain("cannot be answered here")
})

test("a large logbook has a bound with other things held alike too", () => {
  const many = Array.from({ length: 1050 }, (_, t): StintRecord[] => [
    ...[0, 1].flatMap((k) => [
      { trip: `${t}`, ...stint("jig", (t + k) % 2, 2 * t) },
      { trip: `${t}`, ...stint("cork", (t * 7 + k) % 3 === 0 ? 1 : 0, 2 * t + 1) },
    ]),
    ...(t % 100 === 0 ? [{ trip: `${t}`, ...stint("spoon", 0, 2 * t) }] : []),
  ]).flat()
  const answer = compared(many, { ...asked, basis: "adjusted" })
  expect(answer.data.stints).toBeGreaterThan(4000)
  const pair = answer.contrasts.find(
    ({ a, b, basis }) => basis === "adjusted" && a === "spoon" && b === "jig",
  )
  expect(pair).toMatchObject({ ratio: 0, low: 0 })
  // none in 11 hours is at most 3.69 in 11, of the jig's half a fish an hour
  expect(pair?.high).toBeGreaterThan(3.69 / 11 / 0.5)
  expect(pair?.high).toBeLessThan((1.6 * 3.69) / 11 / 0.5)
  expect(answer.levels.find(({ level }) => level === "spoon")?.adjusted?.high).not.toBeNull()
})
