import { expect, test } from "vitest"
import type { Told } from "../../../core/questions/bases/basesOf.ts"
import { leadingBasis } from "../../../core/questions/bases/lead.ts"
import type { Basis } from "../../../shared/questions.ts"

const estimate = { ratio: 1.3, low: 1, high: 1.7, p: 0.05, df: 20, method: "" }
const told = (trips: number, eventsA: number, eventsB = eventsA): Told => ({
  told: true,
  estimate,
  q: 0.05,
  shared: { trips, eventsA, eventsB },
})
const none: Told = { told: false, why: "No trip holds both", shared: null }
const fitted: Told = { told: true, estimate, q: 0.05, shared: null }

const leads = (some: Partial<Record<Basis, Told>>, unlikePatience = false) =>
  leadingBasis({ of: (basis) => some[basis] ?? none, unlikePatience }).basis

test("same stop leads from ten trips and ten events each, not on one less", () => {
  const others = { same_trip: told(30, 40), adjusted: fitted, raw: fitted }
  expect(leads({ ...others, same_stop: told(10, 10) })).toBe("same_stop")
  expect(leads({ ...others, same_stop: told(9, 10) })).toBe("same_trip")
  expect(leads({ ...others, same_stop: told(10, 10, 9) })).toBe("same_trip")
})

test("same trip leads from eight trips and ten events each, then the adjusted answer, then as fished", () => {
  const others = { adjusted: fitted, raw: fitted }
  expect(leads({ ...others, same_trip: told(8, 10) })).toBe("same_trip")
  expect(leads({ ...others, same_trip: told(7, 10) })).toBe("adjusted")
  expect(leads({ ...others, same_trip: told(8, 9, 30) })).toBe("adjusted")
  expect(leads({ raw: fitted })).toBe("raw")
})

test("where patience was unlike, same trip leads over adjusted from four trips", () => {
  const others = { adjusted: fitted, raw: fitted }
  expect(leads({ ...others, same_trip: told(4, 3) }, true)).toBe("same_trip")
  expect(leads({ ...others, same_trip: told(3, 3) }, true)).toBe("adjusted")
  expect(leads({ ...others, same_trip: told(4, 3) }, false)).toBe("adjusted")
})

test("where another basis cannot be had, the lead says why, and not that trips are few", () => {
  const only: Told = { told: false, why: "Only rates are compared within trips", shared: null }
  const lead = leadingBasis({
    of: (basis) => (basis === "adjusted" ? fitted : only),
    unlikePatience: false,
  })
  expect(lead.why).toBe(
    "Only rates are compared within trips: they are compared over all trips, with other things held alike.",
  )
})
