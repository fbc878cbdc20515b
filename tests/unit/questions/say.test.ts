import fc from "fast-check"
import { expect, test } from "vitest"
import { scale, verdict, type Verdict } from "../../../core/questions/scale.ts"
import { presets, type ReaderUnits } from "../../../shared/readerUnits.ts"
import { compared } from "./compared.ts"
import { overTrips, type StintRecord } from "./factsOf.ts"

const claims: readonly Verdict[] = ["A hint", "Fair", "Strong"]
const clear: readonly Verdict[] = ["Fair", "Strong"]
// In steps, so that the limits of the scale and what lies between them come up often.
const end = fc.option(fc.nat(80).map((n) => n / 20))

const holdsOne = (low: number | null, high: number | null) => (low ?? 0) <= 1 && (high ?? Infinity) >= 1

test("a word never says more than the interval, the evidence and the trips do", () => {
  fc.assert(
    fc.property(
      fc.constantFrom("rate" as const, "share" as const, "chance" as const, "length" as const),
      end,
      end,
      fc.option(fc.nat(200).map((n) => n / 200)),
      fc.nat(30),
      (kind, one, other, q, trips) => {
        const [low, high] = one !== null && other !== null && one > other ? [other, one] : [one, other]
        const word = verdict({ kind, low, high, q, trips })
        const overclaims = [
          holdsOne(low, high) && claims.includes(word),
          (q === null || q > 0.05) && clear.includes(word),
          (q === null || q > 0.01 || trips < 12) && word === "Strong",
          trips < 4 && word !== "Too few trips to say",
          word === "About alike" &&
            !(holdsOne(low, high) && (low ?? 0) >= 3 / 4 && (high ?? Infinity) <= 4 / 3),
        ]
        expect(overclaims).not.toContain(true)
      },
    ),
    { seed: 20250101, numRuns: 2000 },
  )
})

test("the sentence of an answer never says more than its own contrast", () => {
  const stint = fc.record({
    trip: fc.nat(15).map(String),
    fish: fc.oneof(fc.constant(0), fc.nat(6)),
    hours: fc.double({ min: 0.2, max: 4, noNaN: true }),
    factors: fc.record({ lure_class: fc.constantFrom("jig", "cork") }),
  })
  fc.assert(
    fc.property(fc.array(stint, { minLength: 1, maxLength: 60 }), (stints: StintRecord[]) => {
      const { sentence, contrasts } = compared(stints, { outcome: "landed_rate", by: "lure_class" })
      const [contrast] = contrasts
      const opens =
        contrast === undefined
          ? sentence.startsWith("Only")
          : scale.some(({ word }) => sentence.startsWith(word))
      const claimed = /^(A hint|Fair|Strong)/.test(sentence)
      const allowed = contrast !== undefined && !holdsOne(contrast.low, contrast.high)
      const strange = /prove|cause|because|best|NaN|undefined|null|Infinity/.test(sentence)
      expect(opens && !strange && (!claimed || allowed), sentence).toBe(true)
    }),
    { seed: 20250102, numRuns: 300 },
  )
})

test("lengths count as alike only within a tenth", () => {
  const evidence = { q: 0.5, trips: 20 }
  expect(verdict({ ...evidence, kind: "rate", low: 0.8, high: 1.2 })).toBe("About alike")
  expect(verdict({ ...evidence, kind: "length", low: 0.8, high: 1.2 })).toBe("Cannot tell yet")
  expect(verdict({ ...evidence, kind: "length", low: 0.95, high: 1.05 })).toBe("About alike")
})

const lures = { outcome: "landed_rate", by: "lure_class" } as const
const steady = (lure_class: string, fish: number, hours = 2, trips = 20) =>
  overTrips("trip", trips, (i) => ({ fish: fish + (i % 2), hours, factors: { lure_class } }))

test("the two levels fished most are compared, not those that came out best and worst", () => {
  const { sentence } = compared(
    [...steady("jig", 2, 3), ...steady("cork", 2, 3), ...steady("walker", 9, 1), ...steady("spoon", 0, 1)],
    lures,
  )
  expect(sentence).toMatch(/^Cannot tell yet\. Per rod-hour, (jig|cork) landed 1\.0 times (jig|cork) \(/)
  expect(sentence).toMatch(/Of the other 5 pairs, 5 differ after allowing for the 6 looked at: /)
  expect(sentence).toMatch(/; and 3 more\.$/)
})

test("the larger is named first, with the interval turned with it", () => {
  const { sentence, contrasts } = compared([...steady("cork", 4, 3), ...steady("jig", 0)], lures)
  expect(contrasts[0]).toMatchObject({ a: "jig", b: "cork" })
  const times = 1 / (contrasts[0]?.ratio ?? 1)
  expect(sentence).toContain(`Strong. Per rod-hour, cork landed ${times.toPrecision(2)} times jig (`)
  const [low, high] = [1 / (contrasts[0]?.high ?? 1), 1 / (contrasts[0]?.low ?? 1)]
  expect(sentence).toContain(`(${low.toPrecision(2)} to ${high.toPrecision(2)})`)
})

test("conditions are told from one another, with their unit, and are not said to land fish", () => {
  const at = (water_temp_c: number, fish: number) =>
    overTrips(`at ${water_temp_c}`, 20, (i) => ({ fish: fish + (i % 2), factors: { water_temp_c } }))
  const { sentence } = compared([...at(10, 0), ...at(20, 4)], { outcome: "landed_rate", by: "water_temp_c" })
  expect(sentence).toMatch(
    /^Strong\. Water temperature: 18-<24 °C against <12 °C, 9\.0 times the fish landed per rod-hour/,
  )
})

test("levels and lengths are said in the reader's units, ratios and verdict alike in all", () => {
  const at = (water_temp_c: number, length_mm: number) =>
    overTrips(`at ${water_temp_c}`, 20, (i) => ({
      strikes: [{ fate: "landed" as const, length_mm: length_mm + 25.4 * (i % 2) }],
      factors: { water_temp_c },
    }))
  const stints = [...at(10, 254), ...at(20, 508)]
  const ask = { outcome: "length_mm", by: "water_temp_c" } as const
  // Means of 254 and 279.4 mm, and of 508 and 533.4: 10.5 and 20.5 inches of 25.4 mm, the inch's definition.
  const said = (reader: ReaderUnits) => compared(stints, ask, reader).sentence
  expect(said(presets.metric)).toMatch(
    /^Strong\. Water temperature: 18-<24 °C against <12 °C, 2\.0 times the length of landed fish \(.*18-<24 °C: 521 mm \(\d+ to \d+\); <12 °C: 267 mm/,
  )
  expect(said(presets.us)).toMatch(
    /^Strong\. Water temperature: 64-<75 °F against <54 °F, 2\.0 times the length of landed fish \(.*64-<75 °F: 20\.5 in \(20\.\d to 20\.\d\); <54 °F: 10\.5 in/,
  )
  const [metric, us] = [presets.metric, presets.us].map((reader) => compared(stints, ask, reader))
  expect({ ...us, sentence: "", cautions: [] }).toEqual({ ...metric, sentence: "", cautions: [] })
})

test("a thin level and the other pairs are said in the reader's units", () => {
  const at = (water_temp_c: number, trips: number, fish: number) =>
    overTrips(`at ${water_temp_c}`, trips, (i) => ({ fish: fish + (i % 2), factors: { water_temp_c } }))
  const thin = compared([...at(10, 2, 1), ...at(20, 20, 1)], byTemperature, presets.us)
  expect(thin.sentence).toMatch(/^Too few trips to say: 64-<75 °F stands on 20 trips, <54 °F on 2 trips\./)
  const three = compared([...at(10, 20, 0), ...at(15, 20, 3), ...at(20, 20, 9)], byTemperature, presets.us)
  expect(three.sentence).toMatch(/Of the other 2 pairs, 2 differ .*: .*64-<75 °F \d/)
  expect(three.sentence).not.toContain("°C")
  const none = compared([...at(10, 20, 2), ...at(20, 1, 0)], byTemperature, presets.us)
  expect(none.sentence).toContain("64-<75 °F had no fish, at most")
})
const byTemperature = { outcome: "landed_rate", by: "water_temp_c" } as const

test("counts are said as counts", () => {
  const on = (rods: number, fish: number) =>
    overTrips(`${rods} rods`, 20, (i) => ({ fish: fish + (i % 2), factors: { rods } }))
  const { sentence, levels } = compared([...on(1, 0), ...on(3, 4)], { outcome: "landed_rate", by: "rods" })
  expect(sentence).toMatch(/^Strong\. Rods: 3 or more against 1, 9\.0 times the fish landed per rod-hour/)
  expect(levels.map(({ level }) => level)).toEqual(["<2", ">=3"])
})

test("months go by their names", () => {
  const stints = Array.from({ length: 8 }, (_, i) => ({
    trip: `${i}`,
    fish: i,
    factors: { month: 4 + (i % 2) },
  }))
  expect(compared(stints, { outcome: "landed_rate", by: "month" }).sentence).toMatch(/April.*May|May.*April/)
})

test("a level without fish has an upper limit in its sentence", () => {
  const { sentence } = compared([...steady("jig", 2), ...steady("spoon", -1, 1, 1), ...none], lures)
  expect(sentence).toMatch(/spoon had no fish, at most 0\.\d+ times jig\./i)
  expect(sentence).toMatch(/spoon: none in 20\.0 rod-hours; at most 0\.\d+ fish per rod-hour/i)
})
const none = overTrips("trip", 19, () => ({ fish: 0, hours: 1, factors: { lure_class: "spoon" } }))

test("a single level gives its rate with its interval", () => {
  expect(compared(steady("jig", 2), lures).sentence).toMatch(
    /^Only jig: 1\.\d+ fish per rod-hour \(0\.\d+ to 1\.\d+\)\.$/,
  )
})
