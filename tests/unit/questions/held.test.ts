import { expect, test } from "vitest"
import { chooseHeld } from "../../../core/questions/held/chooseHeld.ts"
import type { FactorId } from "../../../shared/factors.ts"
import { factsOf, type StintRecord } from "./factsOf.ts"

const lights = ["first light", "day", "last light"]
/** A hundred trips with three stints each, everything known. */
const stints = (change: (stint: StintRecord, trip: number, k: number) => StintRecord = (stint) => stint) =>
  Array.from({ length: 100 }, (_, trip) =>
    [0, 1, 2].map((k) =>
      change(
        {
          trip: `${trip}`,
          fish: 1,
          factors: {
            lure_class: k === 0 ? "jig" : "cork",
            day_of_year: (trip * 3) % 365,
            light: lights[k] ?? "day",
            tide_phase_rad: ((trip + k) % 6) + 0.1,
            water_temp_c: 12 + ((trip * 7) % 15),
            angler: trip % 2 === 0 ? "Nell" : "Tobin",
            spot: `spot ${trip % 4}`,
            order_in_stop: k + 1,
          },
        },
        trip,
        k,
      ),
    ),
  ).flat()

const chosen = (
  some: readonly StintRecord[],
  given: readonly FactorId[] | null = null,
  by: FactorId = "lure_class",
  events = 1000,
) => {
  const facts = factsOf(some)
  const { covariates, notHeld, rows } = chooseHeld(facts, [by], given, [...some.keys()], {
    events,
    columns: 1,
  })
  return {
    held: covariates.map(({ factor }) => factor),
    not: Object.fromEntries(notHeld.map(({ factor, why }) => [factor, why])),
    rows: rows.length,
    covariates,
  }
}
const withoutFactor = (factor: FactorId, where: (trip: number, k: number) => boolean) =>
  stints((stint, trip, k) => {
    if (!where(trip, k)) return stint
    const { [factor]: _, ...rest } = stint.factors ?? {}
    return { ...stint, factors: rest }
  })

test("everything known is held alike, in its order", () => {
  expect(chosen(stints()).held).toEqual([
    "day_of_year",
    "light",
    "tide_phase_rad",
    "water_temp_c",
    "angler",
    "order_in_stop",
    "spot",
  ])
})

test("what was caught plays no part in the choice", () => {
  const lucky = stints((stint, trip, k) => ({ ...stint, fish: k === 0 ? 9 : trip % 2 }))
  expect(chosen(lucky).held).toEqual(chosen(stints()).held)
})

test("what is compared, what tells of the same, and what it works through are not held alike", () => {
  expect(chosen(stints(), null, "light").not["light"]).toBe("it is what is compared")
  expect(chosen(stints(), null, "sun_altitude_deg").not["light"]).toMatch(/same thing/)
  expect(chosen(stints(), null, "ground").not["spot"]).toMatch(/same thing/)
  expect(chosen(stints(), null, "month").not["water_temp_c"]).toMatch(/works through it/)
})

test("a factor known at fewer than three stints in five is left out, one that is known is not", () => {
  const rarely = chosen(withoutFactor("water_temp_c", (trip) => trip % 2 === 0))
  expect(rarely.not["water_temp_c"]).toBe("it is known at 150 of 300 stints only")
  expect(rarely.rows).toBe(300)
  const often = chosen(withoutFactor("water_temp_c", (trip) => trip % 4 === 0))
  expect(often.held).toContain("water_temp_c")
  expect(often.rows).toBe(225)
})

test("factors that together would leave fewer than half of the stints are left out", () => {
  const some = withoutFactor("light", (trip) => trip % 3 === 0).map((stint, i) => {
    const { angler, ...rest } = stint.factors ?? {}
    return Math.floor(i / 3) % 3 === 1
      ? { ...stint, factors: rest }
      : { ...stint, factors: { ...rest, ...(angler === undefined ? {} : { angler }) } }
  })
  expect(chosen(some).held).toContain("light")
  expect(chosen(some).not["angler"]).toMatch(/with the rest it would be known at 99 of 300/)
})

test("each column wants ten events and four trips", () => {
  expect(chosen(stints(), null, "lure_class", 60).held).toEqual(["day_of_year", "light", "water_temp_c"])
  expect(chosen(stints(), null, "lure_class", 60).not["angler"]).toMatch(/too little data/)
  const few = stints().filter(({ trip }) => Number(trip) < 16)
  expect(chosen(few).held).toEqual(["day_of_year", "water_temp_c"])
  expect(chosen(stints(), null, "lure_class", 5).held).toEqual([])
})

test("what is asked for by name is held alike whatever it costs, and nothing else", () => {
  expect(chosen(stints(), ["spot"], "lure_class", 5).held).toEqual(["spot"])
  expect(chosen(stints(), []).held).toEqual([])
})

test("levels on fewer than five trips go together, and several rods are no unknown angler", () => {
  const rare = stints((stint, trip) => ({
    ...stint,
    rods: trip % 5 === 0 ? 2 : 1,
    factors: {
      ...stint.factors,
      rods: trip % 5 === 0 ? 2 : 1,
      spot: trip < 3 ? "far" : trip < 6 ? "farther" : `spot ${trip % 4}`,
    },
  })).map((stint) => {
    const { angler, ...rest } = stint.factors ?? {}
    return stint.rods === 2
      ? { ...stint, factors: rest }
      : { ...stint, factors: { ...rest, ...(angler === undefined ? {} : { angler }) } }
  })
  const { covariates, rows } = chosen(rare)
  const levels = Object.fromEntries(covariates.map(({ factor, levels: names }) => [factor, names]))
  expect(levels["spot"]).toEqual(["spot 2", "spot 3", "spot 0", "spot 1", "other"])
  expect(levels["angler"]).toEqual(["Tobin", "Nell", "several rods"])
  expect(rows).toBe(300)
})

test("a factor that does not vary is not held alike", () => {
  const one = stints((stint) => ({
    ...stint,
    factors: { ...stint.factors, angler: "Nell", water_temp_c: 20 },
  }))
  expect(chosen(one).not["angler"]).toBe("it does not vary enough")
  expect(chosen(one).not["water_temp_c"]).toBe("it does not vary enough")
})
