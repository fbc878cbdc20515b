import { expect, test } from "vitest"
import { makeSample, type Sample } from "../../../core/demo/sample.ts"
import { planted, seasonOf } from "../../../core/demo/planted.ts"
import type { Fate } from "../../../shared/vocabulary.ts"
import { type Around, stintsAround } from "./factsOfSample.ts"
import { standInSky } from "./standInSky.ts"

const sampleOf = (seed: number) => makeSample({ seed, seasons: 3 }, standInSky)

/** Many seeds, so that what is checked is the simulator and not the luck of one logbook. */
const samples: readonly Sample[] = Array.from({ length: 40 }, (_, i) => sampleOf(i + 1))
const stints = samples.map(stintsAround)
const complete = stints.map((rows) => rows.filter(({ trip }) => trip.completeness === "complete"))

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length
const sd = (values: readonly number[]) => {
  const middle = mean(values)
  return Math.sqrt(mean(values.map((value) => (value - middle) ** 2)))
}
const landedIn = ({ strikes }: Around) => strikes.filter(({ fate }) => fate === "landed").length
const tripsIn = (rows: readonly Around[]) => Map.groupBy(rows, ({ trip }) => trip.key)
const sum = (bySpecies: Readonly<Record<string, number>>) =>
  Object.values(bySpecies).reduce((total, value) => total + value, 0)

test("a seed gives the same logbook to the last value, another seed another", () => {
  expect(sampleOf(7)).toEqual(samples[6])
  expect(sampleOf(8).strikes).not.toEqual(samples[6]?.strikes)
})

test("two seasons are the last two of three years; a season is a calendar year that ends with 2025", () => {
  const years = (sample: Sample) =>
    new Set(sample.trips.filter(({ status }) => status === "closed").map(({ date }) => date.slice(0, 4)))
  expect(years(sampleOf(1))).toEqual(new Set(["2023", "2024", "2025"]))
  expect(years(makeSample({ seed: 1, seasons: 1 }, standInSky))).toEqual(new Set(["2025"]))
})

test("trips, stints, hours, fish and blanks are as many as the scenario says", () => {
  const perLogbook = (of: (sample: Sample, rows: readonly Around[]) => number) =>
    mean(samples.map((sample, i) => of(sample, stints[i] ?? [])))
  const closed = (sample: Sample) => sample.trips.filter(({ status }) => status === "closed")
  expect(perLogbook((sample) => closed(sample).length)).toBe(150)
  for (const sample of samples) {
    const how = Map.groupBy(closed(sample), ({ completeness }) => completeness)
    expect(how.get("partial")?.length).toBe(12) // 8%
    expect(how.get("catches only")?.length).toBe(3)
  }
  expect(perLogbook((_, rows) => rows.length) / 150).toBeGreaterThan(8)
  expect(perLogbook((_, rows) => rows.length) / 150).toBeLessThan(10)
  // Rod-hours 1,050 and fish 950: "about" taken as a tenth either way, of the mean over seeds.
  const rodHours = perLogbook(({ truth }) =>
    truth.stints.reduce((hours, { rod_hours }) => hours + rod_hours, 0),
  )
  expect(Math.abs(rodHours / 1050 - 1)).toBeLessThan(0.1)
  const fish = perLogbook((_, rows) => rows.reduce((count, row) => count + landedIn(row), 0))
  expect(Math.abs(fish / 950 - 1)).toBeLessThan(0.1)
})

test("a tenth of the trips is blank and six stints in ten are fishless", () => {
  const blank = complete.map((rows) => {
    const trips = [...tripsIn(rows).values()]
    return trips.filter((trip) => trip.every((row) => landedIn(row) === 0)).length / trips.length
  })
  // 10 to 12%; two points more for what a seed's mean may wander.
  expect(mean(blank)).toBeGreaterThan(0.1)
  expect(mean(blank)).toBeLessThan(0.125)
  const fishless = complete.map((rows) => rows.filter((row) => landedIn(row) === 0).length / rows.length)
  expect(Math.abs(mean(fishless) - 0.6)).toBeLessThan(0.07)
})

test("stints are 10 to 60 minutes with one to three rods", () => {
  const all = complete.flat()
  for (const { stint } of all) {
    if (stint.effort_source !== "clocked" && stint.effort_source !== "ticked") continue
    const minutes = ((stint.end_at ?? 0) - (stint.start_at ?? 0)) / 60_000 - (stint.break_minutes ?? 0)
    expect(minutes).toBeGreaterThanOrEqual(10)
    expect(minutes).toBeLessThanOrEqual(65) // 60, and five for clocks written to five or ten minutes
  }
  expect(new Set(all.map(({ stint }) => stint.rods))).toEqual(new Set([1, 2, 3]))
})

test("trips differ by a log-normal effect of mean 1 with spread 0.8", () => {
  const effects = samples.flatMap(({ truth, trips }) => {
    const usual = new Set(
      trips
        .filter(({ completeness, notes }) => completeness !== "catches only" && !notes)
        .map(({ key }) => key),
    )
    const byTrip = new Map(truth.stints.map((row) => [row.stint.split(".")[0] ?? "", row.trip_effect]))
    return [...byTrip].flatMap(([trip, effect]) => (usual.has(trip) ? [effect] : []))
  })
  // 40 x 134 trips: standard errors 0.8 / sqrt(2 n) = 0.008 of the spread, 0.013 of the mean; 4 of them.
  expect(Math.abs(sd(effects.map(Math.log)) - planted.tripSpread)).toBeLessThan(0.04)
  expect(Math.abs(mean(effects) - 1)).toBeLessThan(0.06)
})

test("each species comes at its season's rate on the trips after it", () => {
  const found = new Map<string, { landed: number; rodHours: number }>()
  samples.forEach((sample, i) => {
    const truth = new Map(sample.truth.stints.map((row) => [row.stint, row]))
    const names = new Map(sample.species.map(({ key, name }) => [key, name]))
    for (const { stint, trip } of complete[i] ?? []) {
      const target = names.get(trip.target_species_id ?? "") ?? ""
      const row = truth.get(stint.key)
      if (row === undefined) continue
      const key = `${target} ${seasonOf(Number(trip.date.slice(5, 7)))}`
      const cell = found.get(key) ?? { landed: 0, rodHours: 0 }
      found.set(key, cell)
      cell.landed += row.landed[target] ?? 0
      cell.rodHours += row.rod_hours
    }
  })
  for (const [group, seasons] of Object.entries(planted.landedPerRodHour))
    for (const [season, rate] of Object.entries(seasons)) {
      const cell = found.get(`${group} ${season}`)
      if (group === "others" || cell === undefined) continue
      // The multipliers average 1 over the year, not within each season: 15%.
      expect(Math.abs(cell.landed / cell.rodHours / rate - 1), `${group} in ${season}`).toBeLessThan(0.15)
    }
})

test("strikes are hooked and landed, and lures hang up, as the class and the ground say", () => {
  const tally = (fates: readonly Fate[], rows: readonly Around[]) =>
    rows.reduce((count, { strikes }) => count + strikes.filter(({ fate }) => fates.includes(fate)).length, 0)
  const hooked: readonly Fate[] = ["lost", "bitten off", "landed"]
  const counted = complete
    .flat()
    .filter(({ trip, stint }) => trip.counted_misses === 1 && stint.counted_misses !== 0)
  for (const [className, rows] of Map.groupBy(counted, ({ lureClass }) => lureClass?.name ?? "")) {
    const [, share] = Object.entries(planted.hookedPerStrike).find(([key]) => key === className) ?? []
    const [, landing] = Object.entries(planted.landedPerHooked).find(([key]) => key === className) ?? []
    const strikes = tally([...hooked, "missed"], rows)
    // Binomial: 4 standard errors, passed by chance once in 16,000.
    const error = (p: number, n: number) => 4 * Math.sqrt((p * (1 - p)) / n)
    expect(Math.abs(tally(hooked, rows) / strikes - (share ?? 0))).toBeLessThan(error(share ?? 0, strikes))
    const hookUps = tally(hooked, rows)
    expect(Math.abs(tally(["landed"], rows) / hookUps - (landing ?? 0))).toBeLessThan(
      error(landing ?? 0, hookUps),
    )
  }
  const jigs = complete
    .flat()
    .filter(({ trip, lureClass }) => trip.counted_hang_ups === 1 && lureClass?.code === "jig")
  for (const [ground, rows] of Map.groupBy(jigs, ({ spot }) => spot?.ground ?? "")) {
    const [, rate] =
      Object.entries(planted.hangUpsPerRodHour["soft plastic on a jig head"]).find(
        ([key]) => key === ground,
      ) ?? []
    const hangUps = rows.reduce((count, { stint }) => count + (stint.hang_ups ?? 0), 0)
    const hours = rows.reduce((total, { stint }) => total + (clockHours(stint) ?? 0) * stint.rods, 0)
    expect(Math.abs(hangUps / hours / (rate ?? 0) - 1)).toBeLessThan(4 / Math.sqrt(hangUps)) // Poisson
    const lost = rows.reduce((count, { stint }) => count + (stint.lures_lost ?? 0), 0)
    const [, costs] = Object.entries(planted.lureLostPerHangUp).find(([key]) => key === ground) ?? []
    expect(Math.abs(lost / hangUps - (costs ?? 0))).toBeLessThan(4 * Math.sqrt(0.25 / hangUps))
  }
})

function clockHours({ effort_minutes, start_at, end_at, break_minutes }: Around["stint"]): number | null {
  if (effort_minutes) return effort_minutes / 60
  return start_at && end_at ? (end_at - start_at) / 3_600_000 - (break_minutes ?? 0) / 60 : null
}

test("landed fish have the lengths of their species, and grown red drum come to the inlet in fall", () => {
  const measured = stints
    .flat()
    .flatMap(({ strikes, trip, spot }) =>
      strikes.flatMap(({ species_id, length_mm }) =>
        species_id && length_mm ? [{ species_id, trip, spot, length: length_mm / 10 }] : [],
      ),
    )
  for (const { species_id, trip, spot, length } of measured) {
    if (species_id !== "species rd" || length <= 80) continue
    expect(seasonOf(Number(trip.date.slice(5, 7)))).toBe("fall")
    expect(spot?.structure).toBe("inlet rocks")
  }
  const of = (code: string) =>
    measured.filter(({ species_id }) => species_id === `species ${code}`).map(({ length }) => length)
  const usualDrum = of("rd").filter((length) => length <= 80)
  // Held within 2.5 standard deviations, which narrows them by a hundredth; 40 logbooks hold many of each.
  for (const [found, [expected, spread]] of [
    [of("st"), planted.lengthCm["spotted seatrout"]],
    [usualDrum, planted.lengthCm["red drum"]],
    [of("fl"), planted.lengthCm["southern flounder"]],
  ] as const) {
    expect(Math.abs(mean(found) - expected)).toBeLessThan(0.6)
    expect(Math.abs(sd(found) - spread)).toBeLessThan(0.6)
  }
  const grown = 1 - usualDrum.length / of("rd").length
  expect(grown).toBeGreaterThan(0.025) // about 4%
  expect(grown).toBeLessThan(0.055)
})

test("the water is as warm as its month and as clear as it is there", () => {
  const temps = new Map<number, number[]>()
  const words: string[] = []
  for (const sample of samples) {
    const dates = new Map(sample.trips.map(({ key, date }) => [key, date]))
    for (const { trip_id, water_temp_c, visibility } of sample.observations) {
      const month = Number(dates.get(trip_id)?.slice(5, 7))
      if (water_temp_c) temps.set(month, [...(temps.get(month) ?? []), water_temp_c])
      if (visibility) words.push(visibility)
    }
  }
  planted.waterTempC.forEach((expected, i) =>
    // Months are not sampled about their middle alone: a degree either way.
    expect(Math.abs(mean(temps.get(i + 1) ?? []) - expected), `month ${i + 1}`).toBeLessThan(1),
  )
  for (const [word, share] of Object.entries(planted.visibility)) {
    const found = words.filter((seen) => seen === word).length / words.length
    expect(Math.abs(found - share), word).toBeLessThan(0.03) // some 6,000 days that remember one another
  }
})

test("everything the scenario stages was written down in every logbook", () => {
  for (const sample of samples) {
    const has = (rows: readonly unknown[]) => expect(rows.length).toBeGreaterThan(0)
    for (const recorded of ["live", "card", "that night", "later"])
      has(sample.trips.filter((trip) => trip.recorded === recorded))
    for (const source of ["clocked", "ticked", "shared", "given"])
      has(sample.stints.filter((stint) => stint.effort_source === source))
    for (const why of ["planned", "slow", "lost or fouled", "moved", "saw something"])
      has(sample.stints.filter((stint) => stint.why_changed === why))
    for (const purpose of ["own", "guided", "scouting", "teaching"])
      has(sample.trips.filter((trip) => trip.purpose === purpose))
    for (const status of ["planned", "open"]) has(sample.trips.filter((trip) => trip.status === status))
    has(sample.stints.filter(({ break_minutes }) => break_minutes))
    has(sample.stints.filter(({ lures_lost }) => lures_lost))
    has(sample.strikes.filter(({ took_on }) => took_on === "pause"))
    has(sample.strikes.filter(({ kept }) => kept === 1))
    const live = new Set(sample.trips.filter(({ recorded }) => recorded === "live").map(({ key }) => key))
    const struck = sample.strikes.filter(({ stint_id }) => live.has(stint_id.split(".")[0] ?? ""))
    expect(struck.filter(({ at }) => at).length / struck.length).toBeGreaterThan(0.8)
  }
})

test("strikes lie inside their stints, stints inside their stops, and rods fish at once", () => {
  const rows = stints.flat().filter(({ stint }) => stint.start_at && stint.end_at)
  const within = (
    at: number | null | undefined,
    row: { start_at?: number | null | undefined; end_at?: number | null | undefined },
  ) => !at || (at >= (row.start_at ?? at) && at <= (row.end_at ?? at))
  const astray = rows.filter(
    ({ stint, stop, strikes }) =>
      !strikes.every(({ at }) => within(at, stint)) ||
      !within(stint.start_at, stop) ||
      !within(stint.end_at, stop),
  )
  expect(astray.map(({ stint }) => stint.key)).toEqual([])
  for (const own of stints) {
    const apart = own.filter(({ stint }) => stint.start_at && !stint.share_group)
    const atOnce = [...Map.groupBy(apart, ({ stop }) => stop.key).values()].filter((stop) =>
      stop.some(({ stint: a }, i) =>
        stop.slice(i + 1).some(({ stint: b }) => (b.start_at ?? 0) < (a.end_at ?? 0)),
      ),
    )
    expect(atOnce.length).toBeGreaterThan(20)
  }
})

test("codes share one name space and marks are one letter each", () => {
  const [sample] = samples
  if (sample === undefined) throw new Error("a sample was made")
  const codes = [
    ...sample.spots,
    ...sample.presentations,
    ...sample.anglers,
    ...sample.species,
    ...sample.lure_classes,
  ].map(({ code }) => code)
  expect(codes.every((code) => typeof code === "string" && /^[a-z][a-z0-9]*$/.test(code))).toBe(true)
  expect(new Set(codes).size).toBe(codes.length)
  const marks = sample.presentations.map(({ mark }) => mark)
  expect(marks.every((mark) => mark?.length === 1)).toBe(true)
  expect(new Set(marks).size).toBe(marks.length)
})

test("the truth expects what the logbooks hold", () => {
  // Every strike of the truth is written on complete trips where misses were counted. Trips' own effects are in it, so
  // that strikes are Poisson: 4 standard errors of the total.
  let [expected, found] = [0, 0]
  samples.forEach((sample, i) => {
    const truth = new Map(sample.truth.stints.map((row) => [row.stint, row]))
    for (const { stint, trip, strikes } of complete[i] ?? []) {
      if (trip.counted_misses !== 1 || stint.counted_misses === 0) continue
      const row = truth.get(stint.key)
      if (row === undefined) throw new Error("every stint has its truth")
      expected += sum(row.strikes) * row.trip_effect
      found += strikes.length
    }
  })
  expect(Math.abs(found - expected)).toBeLessThan(4 * Math.sqrt(expected))
})
