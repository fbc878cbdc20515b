import { writeFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test } from "vitest"
import { z } from "zod"
import { Sky } from "../../../shared/sky.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"
import { run } from "./running.ts"

const at = ["--at", "2026-05-15T10:10:00Z"]
const sapelo = ["--lat", "31.39", "--lon", "-81.288"]
const json = async (...argv: string[]): Promise<unknown> => {
  const { status, out, err } = await run("conditions", ...argv, "--json")
  expect([status, err]).toEqual([0, ""])
  return JSON.parse(out)
}
const one = async (...argv: string[]): Promise<Sky> => Sky.parse(await json(...argv))

/** Names of an object's fields and of those within, as `tide.previous.kind`. */
const fieldsOf = (value: unknown, of = ""): string[] =>
  typeof value !== "object" || value === null
    ? [of]
    : Object.entries(value).flatMap(([name, inner]) => fieldsOf(inner, of === "" ? name : `${of}.${name}`))

// The contract for command line and JSON, section 3, and besides `interpolated`, which says what a value between waters is,
// nautical dawn and dusk, and the moon's distance.
const contract =
  "at sun.altitude_deg sun.azimuth_deg sun.rise sun.set sun.civil_dawn sun.civil_dusk sun.nautical_dawn sun.nautical_dusk " +
  "light moon.illum moon.phase_rad moon.age_d moon.distance_km moon.rise moon.set moon.transit tide.station tide.datum tide.height_m tide.stage tide.part tide.phase_rad " +
  "tide.rate_m_h tide.range_m tide.spring_neap tide.previous.kind tide.previous.at tide.previous.height_m tide.next.kind " +
  "tide.next.at tide.next.height_m tide.interpolated current.station current.speed_ms current.direction_deg current.stage " +
  "current.interpolated"

test("conditions as JSON have the contract's fields, in its order, and no other", async () => {
  expect(fieldsOf(await json("--station", "ACT7801", ...at)).join(" ")).toBe(contract)
})

test("with --until they are a list, one every so many minutes, the end included where it falls on one", async () => {
  const table = ["--station", "8670870", ...at, "--until", "2026-05-15T12:10:00Z"]
  const told = z.array(Sky).parse(await json(...table, "--every", "30"))
  expect(told.map((sky) => sky.at.slice(11, 16))).toEqual(["10:10", "10:40", "11:10", "11:40", "12:10"])
  expect(told[0]).toEqual(await one("--station", "8670870", ...at))
  expect(z.array(Sky).parse(await json(...table, "--every", "55"))).toHaveLength(3)
  expect(z.array(Sky).parse(await json(...table))).toHaveLength(3) // an hour apart where nothing is said
})

test("a station alone is a place too", async () => {
  const tide = await one("--station", "8670870", ...at)
  expect(tide.tide?.station).toBe("8670870")
  const current = await one("--station", "ACT7801", ...at)
  expect(current.current?.station).toBe("ACT7801")
  expect(current.tide).not.toBeNull()
})

test("a station by its id, and the nearest where none is said", async () => {
  expect((await one(...sapelo, ...at)).tide?.station).toBe("8675622")
  expect((await one(...sapelo, ...at, "--station", "8670870")).tide?.station).toBe("8670870")
})

test("one instant in several hands is one instant: offsets, Z, and on both sides of a clock change", async () => {
  const same = await one(...sapelo, "--at", "2024-11-03T05:30:00Z")
  for (const text of ["2024-11-03T01:30:00-04:00", "2024-11-03T00:30-05:00", "2024-11-03T11:00:00+0530"])
    expect(await one(...sapelo, "--at", text)).toEqual(same)
  const hourLater = await one(...sapelo, "--at", "2024-11-03T01:30:00-05:00")
  expect(hourLater.at).toBe("2024-11-03T06:30:00.000Z")
  expect(hourLater.tide?.height_m).not.toBe(same.tide?.height_m)
})

test.each([
  ["two arguments", ["--lat", "31.39", "--lon", "-81.288"]],
  ["one argument", ["--lat=31.39", "--lon=-81.288"]],
  [
    "a negative number that starts with its point",
    ["--lat", "31.39", "--lon", "-81.288", "--station", "8675622"],
  ],
  ["degrees and minutes with letters", ["--lat", "31 23.4 N", "--lon", "81 17.28 W"]],
])("a western longitude as %s", async (_, place) => {
  const { tide, sun } = await one(...place, ...at)
  const plain = await one(...sapelo, ...at)
  expect(tide).toEqual(plain.tide)
  expect(sun.altitude_deg).toBeCloseTo(plain.sun.altitude_deg, 9) // minutes of arc round in the last place
})

test("a small negative longitude is not taken for an option", async () => {
  const west = await one("--lat", "51.5", "--lon", "-.13", ...at)
  expect(west.sun).toEqual((await one("--lat", "51.5", "--lon=-0.13", ...at)).sun)
})

test("far inland there is no tide and no current, only sky, and it says so", async () => {
  const bismarck = ["--lat", "46.81", "--lon", "-100.78", ...at]
  const { tide, current, light } = await one(...bismarck)
  expect([tide, current, light]).toEqual([null, null, expect.any(String)])
  const { status, out } = await run("conditions", ...bismarck)
  expect(status).toBe(0)
  expect(out).toContain("No tide station is in reach")
})

test("coordinates that would be near a tide the other way round are doubted", async () => {
  const { status, out } = await run("conditions", "--lat", "-81.288", "--lon", "31.39", ...at)
  expect(status).toBe(0)
  expect(out.replaceAll(/\s+/g, " ")).toMatch(
    /! Were latitude and longitude swapped\? .* 31°23\.400′N 81°17\.280′W, .* \d\.\d km from Old Tower\./,
  )
  expect((await run("conditions", "--lat", "46.81", "--lon", "-100.78", ...at)).out).not.toContain("swapped")
})

test("a sun that stays down or up is said to, and one below the horizon is not above it", async () => {
  const utqiagvik = ["--lat", "71.29", "--lon", "-156.79"]
  const said = async (day: string) =>
    (await run("conditions", ...utqiagvik, "--at", `${day}T22:00:00Z`)).out.replaceAll(/\s+/g, " ")
  // In the reference cases the sun of 2025-05-20 stays up there, and that of 2025-12-21 down with a twilight (PyEphem).
  expect(await said("2025-05-20")).toMatch(
    /Sun \d+\.\d° above the horizon, bearing \d+°; it stays up all day\./,
  )
  expect(await said("2025-12-21")).toMatch(
    /° below the horizon, .* it does not rise that day; dawn 11:56, dusk/,
  )
})

test("when the sea's horizon shows is said in the order of the clock, and the moon's distance to a hundred kilometres", async () => {
  const said = async (lat: string, lon: string, instant: string) =>
    (await run("conditions", "--lat", lat, "--lon", lon, "--at", instant)).out.replaceAll(/\s+/g, " ")
  // The instants of nautical twilight at Sapelo and Adak are PyEphem's (cases of 05-sun), the distance is JPL Horizons' (06-moon).
  expect(await said("31.4", "-81.28", "2024-03-10T16:00:00Z")).toContain(
    "the sea's horizon shows from nautical dawn 06:48, until nautical dusk 20:22.",
  )
  expect(await said("51.88", "-176.65", "2025-07-04T20:00:00Z")).toContain(
    "the sea's horizon shows until nautical dusk 01:08, from nautical dawn 04:33.",
  )
  expect(await said("71.29", "-156.79", "2025-05-20T22:00:00Z")).toContain("shows day and night.")
  expect(await said("31.4", "-81.28", "2026-01-03T00:00:00Z")).toContain("361,400 km away;")
})

test("a tide is said to rise or fall", async () => {
  const page = async (time: string) =>
    (await run("conditions", "--station", "8670870", "--at", `2026-05-15T${time}:00Z`)).out
  expect(await page("10:10")).toContain(", rising 0.30 m/h.")
  expect(await page("14:10")).toContain(", falling 0.54 m/h.")
})

test("help is at hand beside any command, and what is no option is said plainly", async () => {
  const { status, out } = await run("conditions", "--help")
  expect([status, out]).toEqual([0, (await run("help")).out])
  expect((await run("conditions", "--fish")).err).toBe('There is no option --fish here; "help" lists them.\n')
  expect((await run("conditions", "--at")).err).toBe("--at wants a value.\n")
  expect((await run("conditions", "Fort Pulaski")).err).toMatch(/^"Fort Pulaski" is not expected here/)
})

test("a page with a tide carries its cautions, and one of an interpolated tide says so", async () => {
  const page = (await run("conditions", ...sapelo, ...at)).out.replaceAll(/\s+/g, " ")
  expect(page).toContain("not for navigation")
  expect(page).toContain("above MLLW (interpolated)")
  const reference = (await run("conditions", "--station", "8670870", ...at)).out
  expect(reference).toContain("above MLLW,")
})

const refused: readonly (readonly [string, readonly string[], 1 | 2, string, RegExp])[] = [
  [
    "a latitude beyond the pole",
    ["--lat", "95", "--lon", "200", ...at],
    1,
    "bad_input",
    /the latitude 95 is beyond 90/,
  ],
  [
    "latitude and longitude swapped",
    ["--lat", "-95.1", "--lon", "31.39", ...at],
    1,
    "bad_input",
    /these look swapped/,
  ],
  [
    "a longitude beyond the date line",
    ["--lat", "31", "--lon", "-181", ...at],
    1,
    "bad_input",
    /-181 is beyond 180/,
  ],
  ["words for numbers", ["--lat", "north", "--lon", "west", ...at], 1, "bad_input", /is not read as a place/],
  ["nothing for numbers", ["--lat", "", "--lon", "", ...at], 1, "bad_input", /is not read as a place/],
  ["latitude alone", ["--lat", "31", ...at], 2, "usage", /--lat and --lon together/],
  ["no place", at, 1, "bad_input", /Give a place .* or a station/],
  ["a station nobody knows", ["--station", "999", ...at], 1, "unknown_station", /There is no station 999/],
  [
    "a station by its name",
    ["--station", "Fort Pulaski", ...at],
    1,
    "unknown_station",
    /no station Fort Pulaski/,
  ],
  ["no time", sapelo, 2, "usage", /wants --at/],
  [
    "a time without an offset",
    [...sapelo, "--at", "2026-05-15T10:10:00"],
    2,
    "usage",
    /date, time and offset/,
  ],
  [
    "a day that is not in the calendar",
    [...sapelo, "--at", "2026-02-30T10:00:00Z"],
    2,
    "usage",
    /"2026-02-30T10/,
  ],
  ["a time in words", [...sapelo, "--at", "May 15 2026 10:00Z"], 2, "usage", /is not an instant/],
  ["an offset of days", [...sapelo, "--at", "2026-05-15T10:00:00+99:00"], 2, "usage", /is not an instant/],
  [
    "the year 1700",
    [...sapelo, "--at", "1700-01-01T00:00:00Z"],
    1,
    "bad_input",
    /1700-01-01 is outside 1900 to 2100/,
  ],
  [
    "the year 2200",
    [...sapelo, ...at, "--until", "2200-01-01T00:00:00Z"],
    1,
    "bad_input",
    /2200-01-01 is outside/,
  ],
  [
    "an end before the start",
    [...sapelo, ...at, "--until", "2026-05-15T10:09:59Z"],
    1,
    "bad_input",
    /end comes before/,
  ],
  [
    "too many instants",
    [...sapelo, ...at, "--until", "2026-05-22T10:10:00Z", "--every", "1"],
    1,
    "bad_input",
    /10081 instants; at most 10000/,
  ],
  [
    "a step of nothing",
    [...sapelo, ...at, "--every", "0"],
    2,
    "usage",
    /--every "0" is not a number of minutes above 0/,
  ],
  ["a step backwards", [...sapelo, ...at, "--every", "-5"], 2, "usage", /--every "-5" is not/],
  ["a step in words", [...sapelo, ...at, "--every", "hourly"], 2, "usage", /--every "hourly" is not/],
  ["an option nobody knows", [...sapelo, ...at, "--moon"], 2, "usage", /--moon/],
  ["units nobody knows", [...sapelo, ...at, "--units", "cubits"], 2, "usage", /"cubits"/],
]
const Wrong = z.strictObject({
  error: z.strictObject({
    code: z.string(),
    message: z.string(),
    details: z.record(z.string(), z.unknown()),
  }),
})

test.each(refused)(
  "conditions with %s: one sentence, its status, and the same as JSON",
  async (_, argv, status, code, why) => {
    const plain = await run("conditions", ...argv)
    expect([plain.status, plain.out]).toEqual([status, ""])
    expect(plain.err).toMatch(why)
    expect(plain.err.trimEnd()).not.toContain("\n")
    const asJson = await run("conditions", ...argv, "--json")
    const { error } = Wrong.parse(JSON.parse(asJson.out))
    expect([asJson.status, error.code, `${error.message}\n`]).toEqual([status, code, plain.err])
  },
)

const spotFile = async (): Promise<string> => {
  const file = join(temporaryFolder(), "a.stintbook")
  expect((await run("new", file)).status).toBe(0)
  expect((await run("spot", file, "North bar", "--at", "31.4N 81.3W", "--tide", "8675622")).status).toBe(0)
  return file
}

test("a spot's command that goes wrong changes nothing and says why", async () => {
  const file = await spotFile()
  const before = (await run("spots", file, "--json")).out
  for (const [argv, status, why] of [
    [["--at", "95, 200"], 1, /the latitude 95 is beyond 90/],
    [["--tide", "ACT7801"], 1, /is a current station: ACT7801/],
    [["--current", "8670870"], 1, /is a tide station: 8670870/],
    [["--current", "999"], 1, /There is no station 999/],
    [["--zone", "Mars/Crater"], 1, /no time zone/],
    [["--lag-high", "9000"], 1, /by 9000 minutes/],
    [["--lag-high", "soon"], 2, /--lag-high "soon" is not a number of minutes/],
    [["--slack-after-high", "60"], 1, /both slacks/],
  ] as const) {
    const result = await run("spot", file, "North bar", ...argv)
    expect([result.status, result.out]).toEqual([status, ""])
    expect(result.err).toMatch(why)
  }
  expect((await run("undo", file, "no-such-act")).err).toMatch(/There is no act no-such-act/)
  expect((await run("spots", file, "--json")).out).toBe(before)
})

test("a file of constants that is none is refused by name, and nothing is kept", async () => {
  const file = await spotFile()
  const constants = join(temporaryFolder(), "mine.csv")
  const station = async (content: string | Uint8Array) => {
    writeFileSync(constants, content)
    const kept = [
      "--lat",
      "31.4",
      "--lon",
      "-81.3",
      "--source",
      "own, 2026",
      "--datum",
      "mark",
      "--mean",
      "1.2",
    ]
    return run("station", file, "Upper dock", ...kept, "--constants", constants)
  }
  for (const [content, why] of [
    [
      "name,amplitude_m,phase_deg_gmt\nM2,1,0\nM2,2,0\n",
      /mine\.csv: Line 3 tells M2 a second time\. Nothing was stored\./,
    ],
    [new Uint8Array(2_000_000), /over 1 MB/],
    [new Uint8Array([0xff, 0xd8, 0xff, 0xe0]), /mine\.csv: It is not a text file/],
  ] as const) {
    const { status, err } = await station(content)
    expect(status).toBe(1)
    expect(err).toMatch(why)
  }
  expect((await station("name,amplitude_m,phase_deg_gmt\nM2,1,0\n")).status).toBe(0)
  expect(
    (
      await run(
        "station",
        file,
        "Dock",
        "--lat",
        "31.4",
        "--lon",
        "-81.3",
        "--source",
        "own",
        "--constants",
        "none.csv",
        "--datum",
        "m",
        "--mean",
        "1",
      )
    ).err,
  ).toMatch(/There is no file none\.csv/)
})
