import { expect, test } from "vitest"
import { ownLaw } from "../../../core/day/ownWeights.ts"
import { add } from "../../../core/store/put.ts"
import { dayBook } from "./dayBook.ts"

test("weights are estimated from enough of one's own weighed fish, marked so, and only between them", async () => {
  const { call, trip, id, book } = dayBook()
  const one = trip()
  // W = 1e-5 L^3 to the gram: a fish of 500 mm weighs 1250 g
  const lengths = [300, 340, 380, 400, 420, 460, 500, 520, 560, 600]
  await call("day.save", { trip: one, was: "", text: "620 md tw\n800x" })
  const { day } = await call("day.read", { trip: one })
  book.change((change) => {
    for (const [i, length_mm] of lengths.entries())
      add(change, "strike", {
        stint_id: day.stints[0]?.id ?? "",
        ordinal: i,
        fate: "landed",
        species_id: id("rd"),
        length_mm,
        weight_g: Math.round(1e-5 * length_mm ** 3),
      })
  })
  const species = (await call("species.list", {})).find(({ code }) => code === "rd")
  expect(species?.landed).toBe(10)
  expect(species?.weights?.b).toBeCloseTo(3, 2) // weights are rounded to the gram
  const { weight_g, said, estimated } = await call("species.weight", { species: id("rd"), length_mm: 480 })
  expect(estimated).toBe(true)
  expect(weight_g).toBeCloseTo(1e-5 * 480 ** 3, -1) // within 5 g: rounding to the gram
  expect(said).toContain("not weighed")
  expect(await call("species.weight", { species: id("rd"), length_mm: 700 })).toMatchObject({
    weight_g: null,
  })
  expect((await call("species.weight", { species: id("st"), length_mm: 480 })).said).toBe(
    "0 weighed fish so far: from 10 on, weights of others can be estimated from their lengths.",
  )
  expect(ownLaw(lengths.map((_, i) => ({ length_mm: 400 + i, weight_g: 700 })))).toBeNull()
})

test("estimates are shown as such in the list of fish and on the trip's page, and go into no fact and no table", async () => {
  const { call, trip, book } = dayBook()
  const one = trip({ status: "closed" })
  // W = 1e-5 L^3 to the gram, eleven fish of 12 to 22 in; the last was measured alone
  const weighed = Array.from({ length: 11 }, (_, i) => 12 + i)
  const fish = weighed.map((inches) => `rd${inches}w${Math.round(1e-5 * (inches * 25.4) ** 3)}g`)
  await call("day.save", { trip: one, was: "", text: `620 md tw ${fish.join(" ")}\n700 pt rd18.5\n800x` })
  const { rows } = await call("fish.cells", { trip: one })
  const weight = rows.at(-1)?.cells.weight
  expect(weight?.carried).toBe(true)
  // 1e-5 x (18.5 x 25.4)^3 g = 1037.6 g = 2.29 lb
  expect(weight?.text).toBe("est. 2.3")
  expect(weight?.said).toMatch(/^Estimated 2\.3 lb, not weighed; .* by your own 11 weighed fish\.$/)
  const page = await call("trips.page", { trip: one })
  const strikes = page.stops.flatMap(({ stints }) => stints.flatMap((stint) => stint.fish))
  expect(strikes.at(-1)).toMatchObject({ weight_g: null, estimated: { fish: 11 } })
  expect(strikes.at(-1)?.estimated?.weight_g).toBeCloseTo(1037.6, -1) // within 5 g: weights to the gram
  expect(strikes.slice(0, -1).every(({ estimated }) => estimated === null)).toBe(true)
  const stored = book.db.prepare("SELECT weight_g FROM strike WHERE length_mm BETWEEN 469 AND 471").pluck()
  expect(stored.all()).toEqual([null])
  const { tape } = await call("day.read", { trip: one })
  expect(tape).toMatch(/pt rd18\.5$/)
  const { files } = await call("export.tables", { coordinates: false })
  const strikesTable = files.find(({ name }) => name === "strikes.csv")
  const lines = new TextDecoder().decode(strikesTable?.bytes).split(/\r?\n/)
  expect(lines.filter((line) => line.includes("469.9")).map((line) => line.includes("1037"))).toEqual([false])
})

test("an own note of limits bears its day; a species' code is letters, and no code looks like a fish with its length", async () => {
  const { call, id } = dayBook()
  const { id: made } = await call("species.save", { name: "tripletail", code: "tt", own_min_length_mm: 457 })
  const species = (await call("species.list", {})).find((one) => one.id === made)
  expect(species?.limit_date).toMatch(/^\d{4}-\d{2}-\d{2}$/)
  await call("species.save", {
    id: made,
    limit_source: "own, with the agency's page beside",
    limit_date: "2026-01-02",
  })
  expect((await call("species.list", {})).find((one) => one.id === made)?.limit_date).toBe("2026-01-02")
  await expect(call("species.save", { name: "sheepshead", code: "s2" })).rejects.toThrow("ends in a digit")
  await expect(call("species.save", { name: "sheepshead", code: "p" })).rejects.toThrow(
    "has the code p4, which would read as this fish with its length",
  )
  const check = (wish: Parameters<typeof call<"codes.check">>[1]) => call("codes.check", wish)
  expect((await check({ kind: "presentation", code: "rd5" })).code_problem).toBe(
    '"rd5" reads as a red drum with its length. Choose another code.',
  )
  expect((await check({ kind: "spot", code: "tw" })).code_problem).toBe(
    '"tw" is the code of the presentation suspending minnow natural. All codes share one list: choose another.',
  )
  expect((await check({ kind: "spot", code: "all" })).code_problem).toContain("is a word of the tape")
  expect((await check({ kind: "spot", id: id("md"), code: "md" })).code_problem).toBeNull()
  expect((await check({ kind: "spot", name: "Mill Drain" })).suggested).toEqual({ code: "mi", mark: null })
  expect(
    (await check({ kind: "presentation", name: "prop bait, chrome", mark: "t" })).mark_problem,
  ).toContain("is the mark of")
})

test("a trip's card has the day's light and tide, ten-minute rows and the codes", async () => {
  const { call } = dayBook()
  const { trip } = await call("trips.open", { line: "2026-05-15 620 md nel tob" })
  const card = await call("trips.card", { trip, rods: 3, hours: 2 })
  expect(card.rows).toEqual([
    "6:20",
    "6:30",
    "6:40",
    "6:50",
    "7:00",
    "7:10",
    "7:20",
    "7:30",
    "7:40",
    "7:50",
    "8:00",
    "8:10",
  ])
  expect(card.rods).toEqual(["Nell", "Tobin", "rod 3"])
  expect(card.spot).toBe("Mill Drain")
  expect(card.light.map(({ word }) => word)).toEqual(["first light", "day", "last light"])
  expect(card.tide?.waters.map(({ kind }) => kind)).toEqual(expect.arrayContaining(["high", "low"]))
  expect(card.presentations.length).toBe(16)
  expect(card.letters.map(({ letter }) => letter).join("")).toBe("mlbfgk")
  const other = await call("trips.open", { line: "2026-05-16" })
  expect(await call("trips.card", { trip: other.trip })).toMatchObject({ spot: null, tide: null, light: [] })
})
