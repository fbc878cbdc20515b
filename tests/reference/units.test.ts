// Cases in cases/conditions/08-units.json. Factors and conversions: NIST SP 811 (2008), Appendix B.8 and B.9, from memory,
// with their own tolerances (inHg and mmHg are conventional). Fractions as the trade writes them: common practice, no source.
// Left out: showing a stored value again as it was typed, which is no conversion; miles, grains and Python's "deltaF", units
// and notions that no column has.
import { expect, test } from "vitest"
import { z } from "zod"
import { readFactor } from "../../core/exchange/read/factorCell.ts"
import { type Read, readPlainNumber, readQuantity } from "../../core/exchange/read/quantity.ts"
import { type UnitId, convert, units } from "../../shared/units.ts"
import { readFiles } from "../unit/exchange/reading.ts"
import { difference, readCaseFile } from "./case.ts"

const Case = z.object({ id: z.string(), inputs: z.unknown(), expected: z.unknown(), tolerance: z.unknown() })
const cases = new Map(
  z
    .array(Case)
    .parse(JSON.parse(readCaseFile("conditions/08-units.json")))
    .map((one) => [one.id, one]),
)
const caseOf = (id: string) => {
  const found = cases.get(id)
  if (found === undefined) throw new Error(`no case ${id}`)
  return found
}

/** Null where got is within the relative tolerance of expected, else a sentence. */
const unlike = (got: number, expected: number | undefined, rel: number, what: string): string | null =>
  difference(got, expected ?? null, { rel, abs: 0 }, what)

const factors = [
  ["oz_to_g", "oz", "g"],
  ["lb_to_kg", "lb", "kg"],
  ["inch_to_cm", "in", "cm"],
  ["foot_to_m", "ft", "m"],
  ["fathom_to_m", "fathom", "m"],
  ["yard_to_m", "yd", "m"],
  ["knot_to_m_per_s", "kn", "ms"],
  ["mph_to_m_per_s", "mph", "ms"],
  ["lbf_to_N", "lbf", "n"],
  ["kgf_to_N", "kgf", "n"],
  ["inHg_to_hPa", "inhg", "hpa"],
  ["mmHg_to_hPa", "mmhg", "hpa"],
] as const

test.each(factors)("%s", (name, from, to) => {
  const { expected, tolerance } = caseOf("units-factors")
  const values = z.record(z.string(), z.number()).parse(expected)
  const limits = z.object({ relative: z.number(), inHg_and_mmHg_relative: z.number() }).parse(tolerance)
  const limit = /hg/.test(from) ? limits.inHg_and_mmHg_relative : limits.relative
  expect(unlike(convert(1, from, to), values[name], limit, name)).toBeNull()
})

const spelled: Readonly<Record<string, UnitId>> = {
  oz: "oz",
  g: "g",
  lb: "lb",
  kg: "kg",
  inch: "in",
  mm: "mm",
  foot: "ft",
  m: "m",
  knot: "kn",
  "m/s": "ms",
  mph: "mph",
  degF: "f",
  degC: "c",
  inHg: "inhg",
  hPa: "hpa",
  "lb-test": "lbf",
  N: "n",
}

test("every conversion of the case that a column can need", () => {
  const { inputs, expected, tolerance } = caseOf("units-convert-dev")
  const { rows } = z
    .object({ rows: z.array(z.object({ from: z.string(), to: z.string(), value: z.number() })) })
    .parse(inputs)
  const { values } = z.object({ values: z.array(z.number()) }).parse(expected)
  const limits = z.object({ relative: z.number(), inHg_relative: z.number() }).parse(tolerance)
  const checked = rows.flatMap(({ from, to, value }, at) => {
    const a = spelled[from]
    const b = from === "lb-test" && to === "kg" ? "kgf" : spelled[to]
    if (a === undefined || b === undefined) return []
    const limit = a === "inhg" || b === "inhg" ? limits.inHg_relative : limits.relative
    return [unlike(convert(value, a, b), values[at], limit, `${value} ${from} in ${to}`)]
  })
  expect(checked.filter((one) => one !== null)).toEqual([])
  expect(checked).toHaveLength(rows.length - 2)
})

const Value = z.object({ value: z.number(), unit: z.string().nullable() })
const Refused = z.union([z.object({ error: z.string() }), z.object({ error_or: Value })])
const Result = z.union([Value, Refused, z.object({ empty: z.literal(true) })])

const isUnit = (text: string | null): text is UnitId => text !== null && text in units
const valueOf = (read: Read<number | string>): number | string =>
  read.kind === "read" ? Number(Number(read.value).toPrecision(12)) : "refused"

test("fractions, hook sizes and two units in a cell are read as the trade writes them", () => {
  const { inputs, expected } = caseOf("units-parse-dev")
  const { texts } = z.object({ texts: z.array(z.string()) }).parse(inputs)
  const { results } = z.object({ results: z.array(Result) }).parse(expected)
  const cells = texts.flatMap((text, at): { text: string; want: number | string; got: number | string }[] => {
    const result = results[at]
    if (result === undefined || "empty" in result) return []
    // A negative weight is a number; that no weight is negative is for the field to say.
    if (!("value" in result)) {
      return [{ text, want: "refused", got: valueOf(readFactor("head_weight_g", null, text, false)) }]
    }
    const got = isUnit(result.unit)
      ? readQuantity(text, result.unit, null, false)
      : readPlainNumber(text, false)
    return [{ text, want: result.value, got: valueOf(got) }]
  })
  expect(cells.filter(({ want, got }) => want !== got)).toEqual([])
  expect(cells).toHaveLength(texts.length - 1)
})

test("the case's weights and lengths are read the same in a table of strikes, and no hook size or minus passes", async () => {
  const { inputs, expected } = caseOf("units-parse-dev")
  const { texts } = z.object({ texts: z.array(z.string()) }).parse(inputs)
  const { results } = z.object({ results: z.array(Result) }).parse(expected)
  const rows = texts.flatMap((text, at) => {
    const result = results[at]
    if (result === undefined || "empty" in result || "error_or" in result) return []
    return [{ text, want: "value" in result ? result : null }]
  })
  const isLength = (unit: string | null | undefined) => unit === "in"
  const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`
  const strikes = rows.map(({ text, want }) =>
    isLength(want?.unit) ? `a,landed,,${quoted(text)}` : `a,landed,${quoted(text)},`,
  )
  const read = await readFiles({
    "stints.csv": "stint,start,minutes,zone\na,2026-05-15 10:00,60,UTC",
    // A bare number is in the header's unit.
    "strikes.csv": ["stint,fate,weight (oz),length (in)", ...strikes].join("\n"),
  })
  const told = new Map(
    (read.strikes ?? []).map(({ line, weight_g, length_mm }) => [line, { weight_g, length_mm }]),
  )
  const checked = rows.map(({ text, want }, at) => {
    const got = told.get(at + 2)
    if (want === null) return got === undefined ? null : `${text} was taken`
    const unit = isUnit(want.unit) ? want.unit : "oz"
    const value = (isLength(unit) ? got?.length_mm : got?.weight_g) ?? NaN
    // Rounding of doubles only: the factors are exact.
    return unlike(value, convert(want.value, unit, isLength(unit) ? "mm" : "g"), 1e-12, text)
  })
  expect(checked.filter((one) => one !== null)).toEqual([])
  expect(checked).toHaveLength(texts.length - 2)
})

test("what is stored for what was typed", () => {
  const { inputs, tolerance } = caseOf("units-round-trip-dev")
  const { relative } = z.object({ relative: z.number() }).parse(tolerance)
  const Typed = z.object({
    typed: z.string(),
    stored_g: z.number().optional(),
    stored_mm: z.number().optional(),
  })
  const { rows } = z.object({ rows: z.array(Typed) }).parse(inputs)
  const checked = rows.map(({ typed, stored_g, stored_mm }) => {
    const got = readQuantity(typed, stored_g === undefined ? "mm" : "g", null, false)
    return unlike(got.kind === "read" ? got.value : NaN, stored_g ?? stored_mm, relative, typed)
  })
  expect(checked).toEqual(rows.map(() => null))
})
