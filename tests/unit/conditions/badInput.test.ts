import { expect, test } from "vitest"
import type { z } from "zod"
import { api, type Input } from "../../../shared/api.ts"
import type { OwnPrediction } from "../../../shared/places.ts"
import { ProblemError } from "../../../shared/problems.ts"
import { conditionsFrom } from "../../../core/conditions/compute.ts"
import { readConstants } from "../../../core/conditions/stations/readConstants.ts"
import { stationsWith } from "../../../core/conditions/stations/stations.ts"
import { makeService } from "../../../core/service/service.ts"
import type { Logbook } from "../../../core/store/logbook.ts"
import { context } from "../exchange/importing.ts"
import { temporaryLogbook } from "../store/temporaryLogbook.ts"

const head = "name,amplitude_m,phase_deg_gmt\n"
const good = `${head}M2,1.01,17.8\nS2,0.16,45.3\n`
const bytesOf = (content: string | Uint8Array): Uint8Array<ArrayBuffer> =>
  typeof content === "string" ? new TextEncoder().encode(content) : new Uint8Array(content)

/** The problem with which an act is refused; fails where it is not. */
async function refusal(act: Promise<unknown>): Promise<ProblemError["problem"]> {
  const error: unknown = await act.then(
    () => new Error("it was not refused"),
    (reason: unknown) => reason,
  )
  if (error instanceof ProblemError) return error.problem
  throw error
}

const refused: readonly (readonly [string, string | Uint8Array, RegExp])[] = [
  ["an empty file", "", /no row below the header/],
  ["a header alone", head, /no row below the header/],
  [
    "a column missing",
    "name,amplitude_m\nM2,1\n",
    /needs the columns name, amplitude_m, phase_deg_gmt; it has/,
  ],
  ["another list separator", "name;amplitude_m;phase_deg_gmt\nM2;1;0\n", /needs the columns/],
  [
    "a current's speeds for a tide",
    head.replace("_m,", "_kn,") + "M2,1,0\n",
    /needs the columns name, amplitude_m/,
  ],
  ["a constituent nobody predicts here", `${head}M2,1,0\nZ0,1,0\n`, /Line 3 .*"Z0", which is not predicted/],
  ["a constituent that is a word of the language", `${head}constructor,1,0\n`, /Line 2 .*"constructor"/],
  ["a constituent told twice", `${head}M2,1,0\nK1,1,0\nm2,2,0\n`, /Line 4 tells M2 a second time/],
  ["a constituent told twice by two of its names", `${head}RHO,1,0\nrho1,2,0\n`, /Line 3 tells RHO a second/],
  [
    "a negative amplitude, after blank lines",
    `${head}M2,1,0\n\n\nK1,-0.1,0\n`,
    /Line 5 gives K1 .*"-0.1", not 0 to/,
  ],
  ["no amplitude", `${head}M2,,0\n`, /Line 2 gives M2 the amplitude ""/],
  ["an amplitude in letters", `${head}M2,one,0\n`, /"one"/],
  ["an amplitude beyond all numbers", `${head}M2,1e999,0\n`, /"1e999"/],
  ["centimetres under a heading of metres", `${head}M2,101,0\n`, /"101", not 0 to 10 m/],
  ["a phase beyond the circle", `${head}M2,1,361\n`, /"361", not 0 to 360/],
  ["no phase", `${head}M2,1,\n`, /Line 2 gives M2 the phase ""/],
  ["a line cut off", `${head}M2,1,0\nS2,0.1`, /It is not a table: .*line 3/],
  ["a quote that never closes", `${head}M2,"1,0\n`, /It is not a table/],
  ["a formula for a spreadsheet", `${head}"=cmd()",1,0\n`, /Line 2 names the constituent "=cmd\(\)"/],
  ["a picture", new Uint8Array([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0]), /not a text file/],
  ["zeros", new Uint8Array(1000), /no row below the header/],
  ["two megabytes", new Uint8Array(2_000_000), /over 1 MB/],
  ["a line of nearly a megabyte", `${"x".repeat(900_000)}\n1\n`, /needs the columns/],
  ["commas", ",,,\n".repeat(200_000), /needs the columns/],
  ["what a terminal would obey", `${head}\u001b[2J,1,0\n`, /Line 2 names the constituent "\\u001b\[2J"/],
]

test.each(refused)("%s is no list of constants, and the sentence says why", async (_, content, why) => {
  const read = async () => readConstants({ name: "mine.csv", bytes: bytesOf(content) }, "tide")
  const { code, message, details } = await refusal(read())
  expect(code).toBe("station_unreadable")
  expect(message).toMatch(why)
  expect(message).toMatch(/^mine\.csv: .*\. Nothing was stored\.$/)
  expect(details).toEqual({ file: "mine.csv" })
  expect(message.length).toBeLessThan(250)
})

test("what people's programs write besides is read: marks, blank lines, other letters, other units", () => {
  const read = (content: string, kind: "tide" | "current" = "tide") =>
    readConstants({ name: "mine.csv", bytes: bytesOf(content) }, kind)
  const m2 = [["M2", 1, 20]]
  expect(read(`\ufeff${head}M2,1,20\r\n`)).toEqual(m2)
  expect(read("Name, Amplitude_M ,PHASE_deg_gmt,speed\n\n m2 , 1 ,20,28.98\n\n")).toEqual(m2)
  expect(read("phase_deg_gmt,name,amplitude_cm\n20,M2,100\n")).toEqual(m2)
  expect(read("name,amplitude_ft,phase_deg_gmt\nM2,1,-340\n")).toEqual([["M2", 0.3048, -340]])
  expect(read("name,amplitude_kn,phase_deg_gmt\nM2,1,20\n", "current")).toEqual(m2)
})

const serviceOf = (book: Logbook) =>
  makeService(
    book,
    async () => Promise.reject(new Error("nothing is asked")),
    () => undefined,
  )

const side = { minutes: 10, ratio: 1, plus_m: 0 }
const ownStation = (prediction: z.input<typeof OwnPrediction>): Input<"stations.save"> => ({
  name: "Upper dock",
  lat: 31.4,
  lon: -81.3,
  source: "own readings, June 2026",
  prediction,
})
const constantsOf = (content: string | Uint8Array) =>
  ownStation({
    how: "tide constants",
    file: { name: "mine.csv", bytes: bytesOf(content) },
    datum: "my mark",
    mean_m: 1.2,
  })

/** Everything that a logbook keeps of its stations and spots, and of its history. */
const recordOf = (book: Logbook) =>
  ["own_station", "spot", "change", "computed"].map((table) =>
    book.db.prepare(`SELECT * FROM ${table}`).all(),
  )

test("a station of one's own that cannot be predicted is refused, and what was kept before stays", async () => {
  const book = temporaryLogbook()
  const service = serviceOf(book)
  const save = (input: Input<"stations.save">) =>
    service["stations.save"](api["stations.save"].input.parse(input), context)
  const kept = await save(constantsOf(good))
  const before = recordOf(book)
  for (const [, content] of refused)
    expect((await refusal(save(constantsOf(content)))).code).toBe("station_unreadable")
  for (const reference of [kept.id, "0000000", "ACT7801", "", "__proto__"]) {
    const { code, message } = await refusal(
      save(ownStation({ how: "tide offsets", reference, high: side, low: side })),
    )
    expect(code).toBe("unknown_station")
    expect(message).toMatch(/no tide station that offsets can/)
  }
  expect(recordOf(book)).toEqual(before)
})

test.each<[string, unknown]>([
  ["a place off the earth", { ...constantsOf(good), lat: 95 }],
  ["no name", { ...constantsOf(good), name: "" }],
  ["no source", { ...constantsOf(good), source: "" }],
  [
    "a mean level that is no number",
    { ...constantsOf(good), prediction: { ...constantsOf(good).prediction, mean_m: Number.NaN } },
  ],
  [
    "a diurnal range of nothing",
    { ...constantsOf(good), prediction: { ...constantsOf(good).prediction, great_diurnal_range_m: 0 } },
  ],
  [
    "waters a day later",
    ownStation({ how: "tide offsets", reference: "8670870", high: { minutes: 1440 }, low: side }),
  ],
  [
    "a ratio of nothing",
    ownStation({ how: "tide offsets", reference: "8670870", high: { ...side, ratio: 0 }, low: side }),
  ],
  [
    "bytes that are none",
    {
      ...constantsOf(good),
      prediction: { how: "tide constants", file: { name: "a", bytes: "b" }, datum: "m", mean_m: 0 },
    },
  ],
])("an own station with %s does not pass the contract's own check", (_, input) => {
  expect(api["stations.save"].input.safeParse(input).success).toBe(false)
})

test("a station whose constants are all zero stands still and tells no stage", () => {
  const stations = stationsWith([
    {
      id: "own",
      name: "Pond",
      lat: 31,
      lon: -81,
      kind: "tide",
      datum: "mark",
      mean_m: 1,
      great_diurnal_range_m: null,
      constants: [["M2", 0, 0]],
    },
  ])
  const conditionsOf = conditionsFrom(stations)
  const conditions = conditionsOf({
    start_at: Date.UTC(2026, 5, 1),
    end_at: null,
    zone: "UTC",
    spot: spotWith("own"),
  })
  expect(conditions).toMatchObject({
    tide_height_m: 1,
    tide_stage: null,
    tide_range_m: null,
    tide_phase_rad: null,
  })
  expect(conditions?.tide_rate_m_h ?? Number.NaN).toBeCloseTo(0, 12) // only the sign of zero is left
})

const spotWith = (tide_station: string) => ({
  lat: 31,
  lon: -81,
  tide_station,
  current_station: null,
  lag_high_min: null,
  lag_low_min: null,
  slack_after_high_min: null,
  slack_after_low_min: null,
})

test.each([1700, 1899, 2101, 2200])(
  "in the year %i sun and moon are told, but no tide and no current from the constants of our time",
  (year) => {
    const conditions = conditionsFrom(stationsWith([]))({
      start_at: Date.UTC(year, 6, 1),
      end_at: Date.UTC(year, 6, 1, 1),
      zone: "America/New_York",
      spot: { ...spotWith("8670870"), current_station: "ACT7801" },
    })
    const told = Object.entries(conditions ?? {}).filter(([, value]) => value !== null)
    expect(told.map(([name]) => name).toSorted()).toEqual(
      ["hour_local", "light", "moon_illum", "moon_phase_rad", "sun_altitude_deg"].toSorted(),
    )
    expect(Object.values(conditions ?? {}).includes(Number.NaN)).toBe(false)
  },
)

test.each([1900, 2100])("the first and the last instant of %i are predicted", (year) => {
  const conditionsOf = conditionsFrom(stationsWith([]))
  for (const at of [Date.UTC(year, 0, 1), Date.UTC(year + 1, 0, 1) - 1]) {
    const conditions = conditionsOf({ start_at: at, end_at: null, zone: "UTC", spot: spotWith("8670870") })
    expect(conditions?.tide_height_m).toBeGreaterThan(-1.5)
    expect(conditions?.tide_height_m).toBeLessThan(4)
    expect(conditions?.tide_stage).not.toBeNull()
  }
})

test.each<[string, Input<"spots.save">, string, RegExp]>([
  ["coordinates that look swapped", { coordinates: "-95.1, 31.39" }, "bad_input", /these look swapped/],
  ["coordinates that are none", { coordinates: "by the old dock" }, "bad_input", /is not read as a place/],
  ["a latitude alone", { lat: 31.4, lon: null }, "bad_input", /only one of latitude and longitude/],
  ["a tide station nobody knows", { tide_station: "999" }, "unknown_station", /There is no station 999/],
  ["a current station for its tide", { tide_station: "ACT7801" }, "unknown_station", /is a current station/],
  ["a tide station for its current", { current_station: "8670870" }, "unknown_station", /is a tide station/],
  [
    "a lag of a year",
    { lag_high_min: 525_600 },
    "bad_input",
    /differ from its station by 525600 minutes; 720/,
  ],
  [
    "a slack a day later",
    { slack_after_high_min: 1440, slack_after_low_min: 0, slack_source: "own" },
    "bad_input",
    /by 1440 minutes/,
  ],
  ["one slack of two", { slack_after_high_min: 60, slack_source: "own" }, "bad_input", /both slacks/],
  [
    "slacks from nowhere",
    { slack_after_high_min: 60, slack_after_low_min: 60 },
    "bad_input",
    /where the slack times come from/,
  ],
  ["a zone that is none", { zone: "Mars/Crater" }, "unknown_zone", /no time zone "Mars\/Crater"/],
  ["the name of another spot", { name: "OTHER SPOT" }, "bad_input", /a spot OTHER SPOT already/],
  ["an id that is none", { id: "nowhere" }, "bad_input", /no spot nowhere/],
])("a spot is not changed to %s, and stays as it was", async (_, change, code, why) => {
  const book = temporaryLogbook()
  const service = serviceOf(book)
  const save = (input: Input<"spots.save">) =>
    service["spots.save"](api["spots.save"].input.parse(input), context)
  await save({ name: "Other spot" })
  const { spot } = await save({
    name: "North bar",
    coordinates: "31.4N 81.3W",
    tide_station: "8675622",
    lag_high_min: 5,
  })
  await service["conditions.settled"]({}, context)
  const before = recordOf(book)
  const problem = await refusal(save({ id: spot.id, ...change }))
  expect(problem.code).toBe(code)
  expect(problem.message).toMatch(why)
  expect(recordOf(book)).toEqual(before)
})
