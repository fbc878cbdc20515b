import fc from "fast-check"
import { expect, test } from "vitest"
import { coordinatesText, readCoordinates } from "../../../core/conditions/coordinates.ts"
import { ProblemError } from "../../../shared/problems.ts"

// One place in every notation: 31 deg 23 min 24 s = 31 deg 23.4 min = 31.39 deg, 81 deg 17 min 18 s = 81 deg 17.3 min.
// Notations with marks and letters: ISO 6709:2008, annex D (from memory). The others are common practice, no source.
const samePlace = [
  "31.39, -81.288333333",
  "31.39,-81.288333333",
  "31.39 -81.288333333",
  "31.39; -81.288333333",
  "+31.39 \u221281.288333333",
  "31.39N 81.288333333W",
  "31.39 N, 81.288333333 W",
  "31.39n 81.288333333w",
  "N31.39 W81.288333333",
  "N 31.39, W 81.288333333",
  "81.288333333W 31.39N",
  "31.39° N, 81.288333333° W",
  "31.39°, -81.288333333°",
  "31.39N, -81.288333333",
  "31.39 north, 81.288333333 west",
  "31 23.4 N 81 17.3 W",
  "31°23.4'N, 81°17.3'W",
  "31°23.4′N 81°17.3′W",
  "31° 23.4' -81° 17.3'",
  "31 23.4, -81 17.3",
  "31 23.4 -81 17.3",
  "31-23.4N 81-17.3W",
  "N31 23.4 W81 17.3",
  "31 deg 23.4 min N 81 deg 17.3 min W",
  "31:23.4N 81:17.3W",
  `31°23'24"N 81°17'18"W`,
  "31°23′24″N 81°17′18″W",
  "31° 23′ 24″ N, 81° 17′ 18″ W",
  "31°23'24''N 81°17'18''W",
  "31 23 24 N 81 17 18 W",
  "N 31 23 24 W 81 17 18",
  "31:23:24N 81:17:18W",
  "31:23:24, -81:17:18",
  "31 23 24 -81 17 18",
  "031 23 24.0N 081 17 18.0W",
  "  31º23’24”N\u00a081º17’18”W  ",
]

test.each(samePlace)("%s is read", (text) => {
  const { lat, lon } = readCoordinates(text)
  expect(lat).toBeCloseTo(31.39, 8) // the nine decimals typed above
  expect(lon).toBeCloseTo(-(81 + 17.3 / 60), 8)
})

test("without letters the sign is kept as typed, and none is north and east", () => {
  expect(readCoordinates("-18.14 178.44")).toEqual({ lat: -18.14, lon: 178.44 })
  expect(readCoordinates("18.14S 178.44E")).toEqual({ lat: -18.14, lon: 178.44 })
  expect(readCoordinates("31, 81")).toEqual({ lat: 31, lon: 81 })
  expect(readCoordinates("-0 30, -0 15")).toEqual({ lat: -0.5, lon: -0.25 })
  expect(readCoordinates("0S 0W")).toEqual({ lat: 0, lon: 0 })
  expect(readCoordinates("90, -180")).toEqual({ lat: 90, lon: -180 })
})

const refused: readonly (readonly [string, RegExp])[] = [
  ["", /a place has two numbers/],
  ["31.39", /a place has two numbers/],
  ["31°23.4'N", /it names one hemisphere/],
  ["N, 31.39 81.288", /a place has two numbers/],
  ["31.39, -81.288, 4", /more than two parts/],
  ["95.1, 31.39", /these look swapped/],
  ["-95.1, 31.39", /these look swapped, since a latitude ends at 90 and -95.1 comes first/],
  ["95.1N 31.39E", /the latitude 95.1 is beyond 90/],
  ["200, 31.39", /the latitude 200 is beyond 90/],
  ["31.39, -181", /the longitude -181 is beyond 180/],
  ["90 00 01 N 81 17 18 W", /the latitude 90.000\d+ is beyond 90/],
  ["31 60 N 81 17.3 W", /60 minutes are not below 60/],
  ["31 23 75 N 81 17 18 W", /75 seconds are not below 60/],
  ["31.5 23.4 N 81 17.3 W", /31.5 degrees have a fraction/],
  ["31 23.4 24 N 81 17 18 W", /23.4 minutes have a fraction/],
  ["31.39N 81.288", /it names one hemisphere/],
  ["31.39N, 81.288", /it names one hemisphere/],
  ["-31.39N 81.288W", /-31.39 has both a sign and a letter/],
  ["31.39N 81.288S", /two latitudes/],
  ["31.39E 81.288W", /two longitudes/],
  ["N31.39 81.288W", /once before and once after/],
  ["31 23.4 81", /unclear where the longitude begins/],
  ["31 23 81 17 18", /unclear where the longitude begins/],
  ["31 -23.4, -81 17.3", /a sign stands before minutes/],
  ["31'23.4, -81 17.3", /the sign ' does not follow degrees/],
  ["31 23 24 25 N 81 17 18 W", /more than degrees, minutes and seconds/],
  ["31,39 -81,288", /may be a decimal sign/],
  ["31.39 - 81.288", /"- 81.288" cannot be read/],
  ["31,81", /may be a decimal sign/],
  ["31.39 Nord, 81.288 West", /"Nord, 81.288 W" cannot be read/],
  ["31.39O 81.288W", /cannot be read/],
  ["1e3, 5", /cannot be read|hemisphere|letter/],
  ["NaN, 5", /cannot be read/],
  ["https://example.org/31.39,-81.288", /cannot be read/],
  ["=1+1, 5", /cannot be read/],
  ["٣١.٣٩, 5", /cannot be read/],
]

/** The sentence with which a text is refused; empty where it is read. */
function refusal(text: string): string {
  try {
    readCoordinates(text)
    return ""
  } catch (error) {
    return error instanceof ProblemError ? error.message : String(error)
  }
}

test.each(refused)("%s is refused, and the sentence says why", (text, why) => {
  expect(refusal(text)).toMatch(why)
  expect(refusal(text)).toContain(`"${text}" is not read as a place`)
  expect(refusal(text)).toContain("Write for example")
})

test("a long text is refused at once and not quoted whole", () => {
  const sentence = refusal("31 ".repeat(100_000))
  expect(sentence).toContain("it is too long")
  expect(sentence.length).toBeLessThan(250)
})

test("no text is ever read as a place off the earth", () => {
  const bits = fc.constantFrom(..."0 1 5 31 60 81 90 180 181 . , ; - + ° ' \" : N S E W n e".split(" "), " ")
  fc.assert(
    fc.property(fc.array(bits, { maxLength: 14 }), (parts) => {
      try {
        const { lat, lon } = readCoordinates(parts.join(""))
        expect(Math.abs(lat)).toBeLessThanOrEqual(90)
        expect(Math.abs(lon)).toBeLessThanOrEqual(180)
      } catch (error) {
        if (!(error instanceof ProblemError)) throw error
      }
    }),
    { numRuns: 3000, seed: 6709 },
  )
})

test("coordinates are printed in three notations", () => {
  const place = { lat: 31.39, lon: -(81 + 17.3 / 60) }
  expect(coordinatesText(place, "decimal")).toBe("31.39000, -81.28833")
  expect(coordinatesText(place, "minutes")).toBe("31°23.400′N 81°17.300′W")
  expect(coordinatesText(place, "seconds")).toBe("31°23′24.0″N 81°17′18.0″W")
  expect(coordinatesText({ lat: -5.01, lon: 0 }, "seconds")).toBe("5°00′36.0″S 0°00′00.0″E")
})

test("what rounds up goes over into the next minute or degree", () => {
  const almost = { lat: 31.999999999, lon: -0.000000001 }
  expect(coordinatesText(almost, "decimal")).toBe("32.00000, 0.00000")
  expect(coordinatesText(almost, "minutes")).toBe("32°00.000′N 0°00.000′W")
  expect(coordinatesText(almost, "seconds")).toBe("32°00′00.0″N 0°00′00.0″W")
})

test("what is printed is read back, to half of its last digit", () => {
  const place = fc.record({
    lat: fc.double({ min: -90, max: 90, noNaN: true }),
    lon: fc.double({ min: -180, max: 180, noNaN: true }),
  })
  const lastDigit = { decimal: 1e-5, minutes: 0.001 / 60, seconds: 0.1 / 3600 } as const
  for (const notation of ["decimal", "minutes", "seconds"] as const)
    fc.assert(
      fc.property(place, ({ lat, lon }) => {
        const back = readCoordinates(coordinatesText({ lat, lon }, notation))
        const within = lastDigit[notation] / 2 + 1e-12 // the sum of degrees and minutes rounds
        expect(Math.abs(back.lat - lat)).toBeLessThanOrEqual(within)
        expect(Math.abs(back.lon - lon)).toBeLessThanOrEqual(within)
      }),
      { numRuns: 500, seed: 6709 },
    )
})
