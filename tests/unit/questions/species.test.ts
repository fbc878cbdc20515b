import { expect, test } from "vitest"
import { ProblemError } from "../../../shared/problems.ts"
import { codesOf, compared } from "./compared.ts"
import type { StintRecord, StrikeRecord } from "./factsOf.ts"

const jig = { lure_class: "jig" }
const drum: StrikeRecord = { fate: "landed", species: "red drum", length_mm: 500 }
const trout: StrikeRecord = { fate: "landed", species: "spotted seatrout", length_mm: 400 }
const unnamed: StrikeRecord = { fate: "landed", length_mm: 300 }
const stint = (trip: string, ...strikes: StrikeRecord[]): StintRecord => ({ trip, strikes, factors: jig })
const ofDrum = { by: "lure_class", species: ["RED DRUM"] }

test("a species' rate counts its fish and leaves out stints with a fish of unknown species", () => {
  const stints = [stint("a", drum, drum, trout), stint("b", trout), stint("c", drum, unnamed), stint("d")]
  const answer = compared(stints, { ...ofDrum, outcome: "landed_rate" })
  expect(answer.species).toBe("red drum")
  expect(answer.data).toMatchObject({
    stints: 3,
    events: 2,
    rod_hours: 3,
    left_out: [{ reason: "species_unknown", stints: 1 }],
  })
  expect(codesOf(answer)).toContain("species_unknown")
  expect(compared(stints, { outcome: "landed_rate", by: "lure_class" }).data.events).toBe(6)
})

test("a strike of unknown species matters to strikes, not to landed fish", () => {
  const missed: StrikeRecord = { fate: "missed" }
  const stints = [stint("a", drum, missed), stint("b", drum)]
  expect(compared(stints, { ...ofDrum, outcome: "landed_rate" }).data.stints).toBe(2)
  expect(compared(stints, { ...ofDrum, outcome: "strike_rate" }).data.stints).toBe(1)
})

test("several species are taken together", () => {
  const answer = compared([stint("a", drum, trout), stint("b", { fate: "landed", species: "flounder" })], {
    by: "lure_class",
    species: ["red drum", "spotted seatrout"],
    outcome: "landed_rate",
  })
  expect(answer).toMatchObject({ species: "red drum, spotted seatrout", data: { events: 2 } })
})

test("mean length is that of the measured fish of the species", () => {
  const longer = { ...drum, length_mm: 600 }
  const answer = compared(
    [stint("a", drum, trout), stint("b", longer), stint("c", { ...drum, length_mm: 700 })],
    {
      ...ofDrum,
      outcome: "length_mm",
    },
  )
  expect(answer.levels[0]).toMatchObject({ events: 3, trials: null, raw: { estimate: 600 } })
  expect(codesOf(answer)).toContain("lengths_landed_only")
})

test("a mean over total and fork lengths is warned of, and one over either is not", () => {
  // The species' length types are those of factsOf: fork length of bluefish, total length of all others.
  const fish = (species: string): StrikeRecord => ({ fate: "landed", species, length_mm: 400 })
  const stints = [
    stint("a", fish("bluefish")),
    stint("b", fish("red drum")),
    stint("c", { fate: "missed", species: "tarpon" }),
  ]
  const warned = (...species: string[]) =>
    compared(stints, { by: "lure_class", species, outcome: "length_mm" }).cautions.find(
      ({ code }) => code === "two_length_types",
    )?.text
  expect(warned()).toMatch(/^Lengths of red drum are total lengths, those of bluefish fork lengths,/)
  expect(warned("bluefish", "red drum")).toBeDefined()
  expect(warned("bluefish")).toBeUndefined()
  expect(warned("red drum")).toBeUndefined()
})

const missedBy = (species: string | undefined, n: number): StrikeRecord[] =>
  Array.from({ length: n }, () => (species === undefined ? { fate: "missed" } : { fate: "missed", species }))

test("a share of a species counts strikes of known species, and says how many it did not", () => {
  const answer = compared(
    [stint("a", drum, drum, ...missedBy("red drum", 9)), stint("b", ...missedBy(undefined, 1))],
    {
      ...ofDrum,
      outcome: "hook_up_share",
    },
  )
  expect(answer.data).toMatchObject({ events: 2, trials: 11 })
  expect(answer.cautions.find(({ code }) => code === "species_unknown")?.text).toMatch(
    /^1 strike of unknown species/,
  )
})

test("a share of a species is refused when more than one failure in ten has no species", () => {
  const stints = [stint("a", drum, ...missedBy("red drum", 8)), stint("b", ...missedBy(undefined, 1))]
  const answer = compared(stints, { ...ofDrum, outcome: "hook_up_share" })
  expect(answer.refused?.code).toBe("species_unknown")
  expect(answer.refused?.text).toMatch(/1 of 9 strikes not hooked have no species/)
  expect(answer.levels).toEqual([])
  expect(compared(stints, { by: "lure_class", outcome: "hook_up_share" }).refused).toBeNull()
})

test("the landing share is out of hook-ups, whatever became of them", () => {
  const stints = [
    stint("a", drum, { fate: "lost", species: "red drum" }, { fate: "bitten off", species: "red drum" }),
    stint("b", drum, { fate: "missed", species: "red drum" }),
  ]
  expect(compared(stints, { ...ofDrum, outcome: "landing_share" }).data).toMatchObject({
    events: 2,
    trials: 4,
  })
})

test("hang-ups have no species, which is said", () => {
  const answer = compared([{ ...stint("a", drum), hang_ups: 3 }, stint("b", unnamed)], {
    ...ofDrum,
    outcome: "hang_up_rate",
  })
  expect(answer.data).toMatchObject({ stints: 2, events: 3 })
  expect(codesOf(answer)).toContain("no_species")
})

test("a species the logbook does not have is refused with those it has", () => {
  const ask = { by: "lure_class", species: ["tarpon"], outcome: "landed_rate" as const }
  expect(() => compared([stint("a", drum, trout)], ask)).toThrow(ProblemError)
  expect(() => compared([stint("a", drum, trout)], ask)).toThrow(
    /no species "tarpon".*red drum, spotted seatrout/,
  )
})
