import fc from "fast-check"
import { expect, test } from "vitest"
import { verdict, type Evidence } from "../../../core/questions/scale.ts"
import { scale, type Verdict } from "../../../shared/answer.ts"
import { presets, type ReaderUnits } from "../../../shared/readerUnits.ts"
import { compared } from "./compared.ts"
import { overTrips, type StintRecord } from "./factsOf.ts"

const claims: readonly Verdict[] = ["Leaning", "Leaning, one day carries it", "Fair", "Strong"]
const clear: readonly Verdict[] = ["Fair", "Strong"]
// In steps, so that the limits of the scale and what lies between them come up often.
const end = fc.option(fc.nat(80).map((n) => n / 20))

const lone = { asFished: null, withoutOneTrip: null, confounded: false } as const

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
        const word = verdict({ ...lone, kind, low, high, q, trips })
        const overclaims = [
          holdsOne(low, high) && claims.includes(word),
          (q === null || q > 0.05) && clear.includes(word),
          (q === null || q > 0.01 || trips < 12) && word === "Strong",
          trips < 4 && word !== "Cannot tell",
          word === "Little in it" &&
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
      const { sentence, contrasts, headline } = compared(stints, { outcome: "landed_rate", by: "lure_class" })
      const contrast = contrasts.find(({ basis }) => basis === headline.basis)
      const opens =
        contrast === undefined
          ? sentence.startsWith("Only")
          : scale.some(({ word }) => sentence.startsWith(word))
      const claimed = /^(Leaning|Fair|Strong)/.test(sentence)
      const allowed = contrast !== undefined && !holdsOne(contrast.low, contrast.high)
      const strange = /prove|cause|best|NaN|undefined|null|Infinity/.test(sentence)
      expect(opens && !strange && (!claimed || allowed), sentence).toBe(true)
    }),
    { seed: 20250102, numRuns: 300 },
  )
})

test("lengths count as alike only within a tenth", () => {
  const evidence = { ...lone, q: 0.5, trips: 20 }
  expect(verdict({ ...evidence, kind: "rate", low: 0.8, high: 1.2 })).toBe("Little in it")
  expect(verdict({ ...evidence, kind: "length", low: 0.8, high: 1.2 })).toBe("Cannot tell")
  expect(verdict({ ...evidence, kind: "length", low: 0.95, high: 1.05 })).toBe("Little in it")
})

const usual: Evidence = { ...lone, kind: "rate", low: 0.6, high: 1.8, q: 0.4, trips: 30 }
const better = { low: 1.2, high: 2.4 }
const cases: readonly [Verdict, string, Partial<Evidence>][] = [
  ["Cannot tell", "three trips, however clear", { ...better, q: 0.001, trips: 3 }],
  ["Cannot tell", "an interval around 1", {}],
  ["Cannot tell", "no interval", { low: null, high: null, q: null }],
  ["Cannot tell", "one end only, on the other side of 1", { low: 0.4, high: null }],
  ["Looks better, not shown", "clear as fished, not in the fairer comparison", { asFished: better }],
  [
    "Looks better, not shown",
    "clear, but not to be told from something else",
    { ...better, q: 0.001, confounded: true },
  ],
  ["Cannot tell", "neither clear nor to be told from something else", { confounded: true }],
  ["Little in it", "an interval within a quarter less and a third more", { low: 0.8, high: 1.18 }],
  [
    "Little in it",
    "alike in the fairer comparison though clear as fished",
    { low: 0.8, high: 1.3, asFished: better },
  ],
  [
    "Leaning, one day carries it",
    "clear, but not without one trip",
    { ...better, q: 0.001, withoutOneTrip: { low: 0.7, high: 1.8 } },
  ],
  [
    "Strong",
    "clear, without any one trip too",
    { ...better, q: 0.001, withoutOneTrip: { low: 1.1, high: 1.8 } },
  ],
  ["Leaning", "clear, but q allows for many looks", { ...better, q: 0.06 }],
  ["Leaning", "clear, without a q", { ...better, q: null }],
  ["Fair", "clear, q at most 0.05", { ...better, q: 0.05 }],
  ["Fair", "clear, q at most 0.01, but eleven trips", { ...better, q: 0.001, trips: 11 }],
  ["Strong", "clear, q at most 0.01, twelve trips", { ...better, q: 0.01, trips: 12 }],
  ["Strong", "clear below 1 as above it", { low: 0.3, high: 0.8, q: 0.001 }],
]

test.each(cases)("%s: %s", (word, _, evidence) => {
  expect(verdict({ ...usual, ...evidence })).toBe(word)
})

test("every word of the scale has a case", () => {
  expect(new Set(cases.map(([word]) => word))).toEqual(new Set(scale.map(({ word }) => word)))
})

const lures = { outcome: "landed_rate", by: "lure_class", basis: "raw" } as const
const steady = (lure_class: string, fish: number, hours = 2, trips = 20) =>
  overTrips("trip", trips, (i) => ({ fish: fish + (i % 2), hours, factors: { lure_class } }))

test("the two levels fished most are compared, not those that came out best and worst", () => {
  const { sentence } = compared(
    [...steady("jig", 2, 3), ...steady("cork", 2, 3), ...steady("walker", 9, 1), ...steady("spoon", 0, 1)],
    lures,
  )
  expect(sentence).toMatch(/^Cannot tell\. Per rod-hour, (jig|cork) landed 1\.0 times (jig|cork) \(/)
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
  const { sentence } = compared([...at(10, 0), ...at(20, 4)], byTemperature)
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
  const ask = { outcome: "length_mm", by: "water_temp_c", basis: "raw" } as const
  // Means of 254 and 279.4 mm, and of 508 and 533.4: 10.5 and 20.5 inches of 25.4 mm, the inch's definition.
  const said = (reader: ReaderUnits) => compared(stints, ask, reader).sentence
  expect(said(presets.metric)).toMatch(
    /^Strong\. Water temperature: 18-<24 °C against <12 °C, 2\.0 times the length of landed fish \(.*18-<24 °C: 521 mm \(\d+ to \d+\); <12 °C: 267 mm/,
  )
  expect(said(presets.us)).toMatch(
    /^Strong\. Water temperature: 64-<75 °F against <54 °F, 2\.0 times the length of landed fish \(.*64-<75 °F: 20\.5 in \(20\.\d to 20\.\d\); <54 °F: 10\.5 in/,
  )
  const [metric, us] = [presets.metric, presets.us].map((reader) => compared(stints, ask, reader))
  expect(us?.ratios_of).toBe("64-<75 °F over <54 °F")
  const wordless = { sentence: "", ratios_of: null, cautions: [] }
  expect({ ...us, ...wordless }).toEqual({ ...metric, ...wordless })
})

test("a thin level and the other pairs are said in the reader's units", () => {
  const at = (water_temp_c: number, trips: number, fish: number) =>
    overTrips(`at ${water_temp_c}`, trips, (i) => ({ fish: fish + (i % 2), factors: { water_temp_c } }))
  const thin = compared([...at(10, 2, 1), ...at(20, 20, 1)], byTemperature, presets.us)
  expect(thin.sentence).toMatch(/^Cannot tell: 64-<75 °F stands on 20 trips, <54 °F on 2 trips\./)
  const three = compared([...at(10, 20, 0), ...at(15, 20, 3), ...at(20, 20, 9)], byTemperature, presets.us)
  expect(three.sentence).toMatch(/Of the other 2 pairs, 2 differ .*: .*64-<75 °F \d/)
  expect(three.sentence).not.toContain("°C")
  const none = compared([...at(10, 20, 2), ...at(20, 1, 0)], byTemperature, presets.us)
  expect(none.sentence).toContain("64-<75 °F had no fish, at most")
})
const byTemperature = { outcome: "landed_rate", by: "water_temp_c", basis: "raw" } as const

test("counts are said as counts", () => {
  const on = (rods: number, fish: number) =>
    overTrips(`${rods} rods`, 20, (i) => ({ fish: fish + (i % 2), factors: { rods } }))
  const { sentence, levels } = compared([...on(1, 0), ...on(3, 4)], {
    outcome: "landed_rate",
    by: "rods",
    basis: "raw",
  })
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
  expect(sentence).toMatch(/spoon had no fish, at most 0\.\d+ times jig,/i)
  expect(sentence).toMatch(/spoon: none in 20\.0 rod-hours; at most 0\.\d+ fish per rod-hour/i)
})
const none = overTrips("trip", 19, () => ({ fish: 0, hours: 1, factors: { lure_class: "spoon" } }))

test("a single level gives its rate with its interval", () => {
  expect(compared(steady("jig", 2), lures).sentence).toMatch(
    /^Only jig: 1\.\d+ fish per rod-hour \(0\.\d+ to 1\.\d+\)\.$/,
  )
})
