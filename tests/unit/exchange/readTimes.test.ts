// Clock changes: zone rules of the IANA database (US 2026: forward on 8 March at 02:00, back on 1 November at 02:00).
import { expect, test } from "vitest"
import { type OrderProof, OrderEvidence, readMoment } from "../../../core/exchange/read/dates.ts"
import { onlyRow, problemOf, readLines, refusalsOf, holding } from "./reading.ts"

const none: OrderProof = { order: null, proof: null }
const dayOf = (text: string, order: OrderProof = none) => {
  const found = readMoment(text, order, 2026)
  return found.kind === "read" ? found.value.day : found.reason
}
const clockOf = (text: string) => {
  const found = readMoment(text, none, 2026)
  return found.kind === "read" ? found.value.clock : found.reason
}

test.each([
  "2014-05-06",
  "2014/5/6",
  "20140506",
  "6.5.2014",
  "06.05.14",
  "6 May 2014",
  "May 6, 2014",
  "2014 May 6",
  "6-may-2014",
  "Tue 6 May 2014",
  "2014 5 6",
  "6th May 2014",
])("%s is 6 May 2014", (text) => {
  expect(dayOf(text)).toEqual({ year: 2014, month: 5, day: 6 })
})

test("day and month are ordered by proof; a date that proves itself needs none", () => {
  expect(dayOf("5/6/2014", { order: "mdy", proof: null })).toEqual({ year: 2014, month: 5, day: 6 })
  expect(dayOf("5/6/2014", { order: "dmy", proof: null })).toEqual({ year: 2014, month: 6, day: 5 })
  expect(dayOf("5/31/2014")).toEqual({ year: 2014, month: 5, day: 31 })
  expect(dayOf("5/5/2014")).toEqual({ year: 2014, month: 5, day: 5 })
  expect(dayOf("5/6/2014")).toContain("may be 5 June or 6 May")
})

test("years of two digits are the latest that are not in the future", () => {
  expect(dayOf("5/31/14")).toEqual({ year: 2014, month: 5, day: 31 })
  expect(dayOf("5/31/99")).toEqual({ year: 1999, month: 5, day: 31 })
})

test.each([
  ["2014-02-30", "no such day: 30 February"],
  ["2023-02-29", "no such day: 29 February"],
  ["2014-13-14", "no such month: 13"],
  ["2014-00-14", "no such month: 00"],
  ["1899-12-31", "a year before 1900: 1899"],
  ["yesterday", '"yesterday" is not a date'],
  ["Total", '"Total" is not a date (a totals row is not a trip)'],
  ["Spring 2014", '"Spring 2014" is not a date'],
])("%s is refused: %s", (text, reason) => {
  expect(dayOf(text)).toBe(reason)
})

test.each([
  ["11:20", [11, 20, 0]],
  ["12:05 PM", [12, 5, 0]],
  ["12:05 am", [0, 5, 0]],
  ["3:30pm", [15, 30, 0]],
  ["11:20 a.m.", [11, 20, 0]],
  ["6 PM", [18, 0, 0]],
  ["0620", [6, 20, 0]],
  ["6:20:30", [6, 20, 30]],
])("%s is a clock time", (text, [hour, minute, second]) => {
  expect(clockOf(text)).toEqual({ hour, minute, second })
})

test.each(["25:15", "12:60", "13:00 PM", "0:30 pm"])("%s is no such time", (text) => {
  expect(clockOf(text)).toBe(`no such time: ${text}`)
})

test("instants with an offset, with Z, and local ones are told apart", () => {
  const offset = (text: string) => {
    const found = readMoment(text, none, 2026)
    return found.kind === "read" ? found.value.offsetMinutes : found.reason
  }
  expect(offset("2026-05-15T06:10:00-04:00")).toBe(-240)
  expect(offset("2026-05-15T06:10:00+0530")).toBe(330)
  expect(offset("2026-05-15 06:10Z")).toBe(0)
  expect(offset("2026-05-15 06:10")).toBeNull()
})

test("two orders in one column: only dates that prove themselves are read", async () => {
  const evidence = new OrderEvidence()
  for (const text of ["31/5/2014", "5/31/2014"]) evidence.saw(text)
  expect(evidence.result().order).toBe("both")
  const read = await readLines(["date,hours", "31/5/2014,1", "5/31/2014,1", "5/6/2014,1"])
  expect(read.rows.map(({ date }) => date)).toEqual(["2014-05-31", "2014-05-31"])
  expect(refusalsOf(read)).toEqual([holding('4 date: "5/6/2014" may be')])
})

test("dates that nothing orders are refused with a way out, and the way out works", async () => {
  const lines = ["When,hours", "5/6/2014,3", "6/7/2014,3"]
  const read = await readLines(lines, { map: ["When=date"] })
  expect(read.rows).toEqual([])
  expect(refusalsOf(read)[0]).toContain('--map "When=date:dmy" or "When=date:mdy"')
  const ordered = await readLines(lines, { map: ["When=date:mdy"] })
  expect(ordered.rows.map(({ date }) => date)).toEqual(["2014-05-06", "2014-06-07"])
})

const ny = { zone: "America/New_York" }
const row = async (header: string, cells: string, options: Parameters<typeof readLines>[1] = ny) =>
  onlyRow(await readLines([header, cells], options))
const refused = async (header: string, cells: string, options: Parameters<typeof readLines>[1] = ny) =>
  refusalsOf(await readLines([header, cells], options))

test("an end and hours give the start; a start and minutes the end", async () => {
  const back = await row("date,end,hours", "2026-05-15,11:20,4")
  expect([back.start_at, back.end_at]).toEqual([Date.UTC(2026, 4, 15, 11, 20), Date.UTC(2026, 4, 15, 15, 20)])
  expect([back.effort_minutes, back.effort_source]).toEqual([240, "given"])
  const on = await row("date,start,minutes", "2026-05-15,06:10,90")
  expect([on.start_at, on.end_at]).toEqual([Date.UTC(2026, 4, 15, 10, 10), Date.UTC(2026, 4, 15, 11, 40)])
})

test("a start and an end without minutes are clocked; neither leaves the effort unknown", async () => {
  const clocked = await row("date,start,end", "2026-05-15,06:10,08:40")
  expect([clocked.effort_minutes, clocked.effort_source]).toEqual([150, "clocked"])
  const unknown = await row("date,landed", "2026-05-15,3")
  expect([unknown.effort_minutes, unknown.effort_source, unknown.start_at, unknown.end_at]).toEqual([
    null,
    null,
    null,
    null,
  ])
})

test("an end before the start is past midnight up to 12 hours, and said", async () => {
  const read = await readLines(["date,start,end", "2026-05-15,22:00,02:30"], ny)
  expect(onlyRow(read).effort_minutes).toBe(270)
  expect(read.assumptions).toContain("1 row taken as fished past midnight.")
  expect(await refused("date,start,end", "2026-05-15,12:00,00:30")).toEqual([
    "2 end: the end is not after the start",
  ])
  expect(await refused("date,start,end", "2026-05-15,08:00,07:00")).toEqual([
    "2 end: the end is not after the start",
  ])
  expect(await refused("start,end", "2026-05-15 22:00,2026-05-15 02:30")).toEqual([
    "2 end: the end is not after the start",
  ])
  expect(await refused("start,end", "2026-05-15 08:00,2026-05-15 08:00")).toEqual([
    "2 end: the end is not after the start",
  ])
})

test.each([
  ["0", "effort must be more than 0"],
  ["-1", "effort must be more than 0"],
  ["24.5", "more than 24 hours in one stint"],
  ["1e3", "more than 24 hours in one stint"],
  ["31 h", "more than 24 hours in one stint"],
])("an effort of %s hours is refused", async (hours, reason) => {
  expect(await refused("date,hours", `2026-05-15,${hours}`)).toEqual([`2 hours: ${reason}`])
})

test("24 hours are an effort", async () => {
  expect((await row("date,hours", "2026-05-15,24")).effort_minutes).toBe(1440)
})

test("efforts that contradict one another are refused", async () => {
  expect(await refused("date,start,end,minutes", "2026-05-15,06:00,07:00,90")).toEqual([
    "2 minutes: longer than from start to end (60 minutes)",
  ])
  expect((await row("date,start,end,minutes", "2026-05-15,06:00,07:00,50")).effort_minutes).toBe(50)
  expect(await refused("date,hours,minutes", "2026-05-15,2,90")).toEqual([
    "2 minutes: another effort than in hours",
  ])
  expect(await refused("start,end", "2026-05-15 06:00,2026-05-17 06:00")).toEqual([
    "2 end: more than 24 hours from start to end",
  ])
})

test("rod-hours are parted by the rods", async () => {
  const read = await row("date,RodHrs,rods", "2026-05-15,9,3", { map: ["RodHrs=rod_hours"] })
  expect([read.effort_minutes, read.rods]).toEqual([180, 3])
})

// Case creel-rod-hours: starts, ends, rods and breaks as given there, worked by hand; rod-hours to 1e-6. Plain tables hold
// no breaks: the first stint's 20 minutes are taken off as its minutes.
test("rod-hours across both clock changes of 2026 are those of elapsed time", async () => {
  const read = await readLines([
    "start,end,minutes,rods",
    "2026-05-15T06:10:00-04:00,2026-05-15T08:40:00-04:00,130,2",
    "2026-03-08T01:30:00-05:00,2026-03-08T03:30:00-04:00,,1",
    "2026-11-01T01:30:00-04:00,2026-11-01T01:30:00-05:00,,3",
  ])
  const hours = read.rows.map(({ effort_minutes, rods }) => ((effort_minutes ?? 0) * rods) / 60)
  for (const [at, expected] of [4.333333, 1, 3].entries()) expect(hours[at]).toBeCloseTo(expected, 6)
  expect(read.rows.map(({ date }) => date)).toEqual(["2026-05-15", "2026-03-08", "2026-11-01"])
})

test("local times across a change of the clocks are elapsed time too", async () => {
  expect((await row("date,start,end", "2026-03-08,01:30,03:30")).effort_minutes).toBe(60)
  expect((await row("date,start,end", "2026-11-01,00:30,03:30")).effort_minutes).toBe(240)
})

test("a time that the clocks skipped is refused with the zone", async () => {
  expect(await refused("date,start,minutes", "2026-03-08,02:30,30")).toEqual([
    "2 start: 02:30 did not exist on 2026-03-08 in America/New_York, where the clocks went forward over it",
  ])
  expect((await row("date,start,minutes", "2026-03-08,02:30,30", { zone: "America/Phoenix" })).start_at).toBe(
    Date.UTC(2026, 2, 8, 9, 30),
  )
})

test("a time that came twice is the first of the two, and said; an offset says which", async () => {
  const read = await readLines(["date,start,minutes", "2026-11-01,01:30,20"], ny)
  expect(onlyRow(read).start_at).toBe(Date.UTC(2026, 10, 1, 5, 30))
  expect(read.assumptions).toContain(
    "1 clock time came twice that night, when clocks went back: the first is taken.",
  )
  const second = await readLines(["start,minutes", "2026-11-01T01:30-05:00,20"], ny)
  expect(onlyRow(second).start_at).toBe(Date.UTC(2026, 10, 1, 6, 30))
  expect(second.assumptions.join(" ")).not.toContain("twice")
})

test("the zone is the row's, else the spot's, else the one given, else the logbook's, else UTC", async () => {
  const options = {
    zone: "Europe/Oslo",
    home_zone: "Asia/Tokyo",
    spot_zones: new Map([["marsh", "America/New_York"]]),
  }
  const lines = [
    "date,start,minutes,zone,spot",
    "2026-07-01,12:00,30,europe/helsinki,Marsh",
    "2026-07-01,12:00,30,,MARSH",
    "2026-07-01,12:00,30,,",
  ]
  const read = await readLines(lines, options)
  expect(read.rows.map(({ zone, start_at }) => [zone, new Date(start_at ?? 0).getUTCHours()])).toEqual([
    ["Europe/Helsinki", 9],
    ["America/New_York", 16],
    ["Europe/Oslo", 10],
  ])
  expect(read.assumptions.filter((said) => said.includes("zone"))).toEqual([
    "1 row without a zone: clock times are read in Europe/Oslo, as said.",
  ])
  const home = await readLines(lines.slice(0, 1).concat(lines.slice(3)), { home_zone: "Asia/Tokyo" })
  expect(onlyRow(home).zone).toBe("Asia/Tokyo")
  expect(home.assumptions.join()).toContain("the logbook's home zone, Asia/Tokyo")
  expect(onlyRow(await readLines(lines.slice(0, 1).concat(lines.slice(3)))).zone).toBe("UTC")
})

test("a zone that does not exist is named: in a cell a refusal, for the whole import a problem", async () => {
  expect(await refused("date,hours,zone", "2026-05-15,3,Mars/Olympus")).toEqual([
    '2 zone: there is no time zone "Mars/Olympus"; write its IANA name, such as America/New_York',
  ])
  expect(await refused("date,hours,zone", "2026-05-15,3,+02:00")).toHaveLength(1)
  const problem = await problemOf(readLines(["date,hours", "2026-05-15,3"], { zone: "Mars/Olympus" }))
  expect([problem.code, problem.details]).toEqual(["unknown_zone", { zone: "Mars/Olympus" }])
})

test("the date of an instant is that of its zone, else the one written", async () => {
  expect((await row("start,minutes", "2026-05-16T03:10:00Z,30")).date).toBe("2026-05-15")
  expect((await row("start,minutes", "2026-05-15T23:10:00-04:00,30", {})).date).toBe("2026-05-15")
  expect((await row("end,hours", "2026-05-15 01:00,3")).date).toBe("2026-05-14")
})

test("tomorrow is read, the day after lies in the future", async () => {
  const now = Date.UTC(2026, 4, 15, 12)
  expect((await row("date,hours", "2026-05-16,1", { now })).date).toBe("2026-05-16")
  expect(await refused("date,hours", "2026-05-17,1", { now })).toEqual(["2 date: date lies in the future"])
})

test("a row that says no day is refused; a time in a date column too", async () => {
  expect(await refused("date,hours", ",3")).toEqual(["2 date: date is missing"])
  expect(await refused("start,hours", "11:20,3")).toEqual(["2 start: date is missing"])
  expect(await refused("date,hours", "2026-05-15 11:20,3")).toEqual([
    "2 date: a date is wanted here; a column of times is mapped as start or end",
  ])
  expect((await row("date,hours", "2026-05-15 00:00:00,3")).date).toBe("2026-05-15")
})
