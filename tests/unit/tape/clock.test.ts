import { expect, test } from "vitest"
import { readTape, tellTape } from "../../../core/tape/tape.ts"
import { printTape } from "../../../core/tape/printer.ts"
import { tapeContext } from "./tapeContext.ts"

const on = (date: string, zone = "America/New_York", start_at: number | null = null) =>
  tapeContext({ place: { date, zone, start_at } })
const minutesOf = (typed: string, context = tapeContext()) =>
  readTape(typed, context).day.stints.map(({ start_at, end_at }) =>
    start_at === null || end_at === null ? null : (end_at - start_at) / 60_000,
  )
const starts = (typed: string, context = tapeContext()) =>
  readTape(typed, context).day.stints.map(({ start_at }) =>
    start_at === null ? null : new Date(start_at).toISOString(),
  )
const sentences = (typed: string, context = tapeContext()) =>
  tellTape(typed, context).lines.flatMap(({ unclear }) => unclear?.sentence ?? [])

test("a clock without a half of the day is the next one; past noon and past midnight", () => {
  // Eastern daylight time is four hours behind UTC
  expect(starts("1110 md tw\n115 pt\n6 sp\n1045 ck\n1215 wk\n0130x", on("2026-05-15"))).toEqual([
    "2026-05-15T15:10:00.000Z",
    "2026-05-15T17:15:00.000Z",
    "2026-05-15T22:00:00.000Z",
    "2026-05-16T02:45:00.000Z",
    "2026-05-16T04:15:00.000Z",
  ])
  expect(minutesOf("10p md tw\n1230 pt\n2x", on("2026-05-15"))).toEqual([150, 90])
  // the first of the day: from one to three in the afternoon, else as written; near the trip's start where that is known
  expect(starts("130 md tw", on("2026-05-15"))).toEqual(["2026-05-15T17:30:00.000Z"])
  expect(starts("730 md tw", on("2026-05-15"))).toEqual(["2026-05-15T11:30:00.000Z"])
  expect(starts("730 md tw", on("2026-05-15", "America/New_York", Date.UTC(2026, 4, 15, 23)))).toEqual([
    "2026-05-15T23:30:00.000Z",
  ])
})

test("nights on which clocks change: real minutes count, times that come twice are told apart, those left out refused", () => {
  // 1 November 2026: at 2:00 clocks in New York go back to 1:00
  const back = on("2026-10-31")
  expect(minutesOf("11p md tw\n0130 pt\n0130* sp\n3x", back)).toEqual([150, 60, 90])
  const { day } = readTape("11p md tw\n0130 pt\n0130* sp\n3x", back)
  expect(printTape(day, back)).toBe("2300 md tw\n130 pt\n0130*-300 sp")
  expect(sentences("11p md tw\n0300* pt", back)).toEqual([
    "Clocks in America/New_York do not show 0300 twice that night.",
  ])
  // 8 March 2026: at 2:00 they go forward to 3:00
  const forward = on("2026-03-07")
  expect(minutesOf("11p md tw\n0130 pt\n0330x", forward)).toEqual([150, 60])
  expect(sentences("11p md tw\n0230 pt", forward)).toEqual([
    "Clocks in America/New_York go forward over 0230 that night: there was no such time.",
  ])
  // Lord Howe Island's clocks change by half an hour: 5 April 2026, 2:00 back to 1:30
  expect(minutesOf("0100 md tw\n0145 pt\n0145* sp\n0230x", on("2026-04-05", "Australia/Lord_Howe"))).toEqual([
    45, 30, 45,
  ])
})

test.each([
  [
    "620 md tw\n610 pt",
    "610 would be 18:10, more than 8 hours after 6:20. Write the lines in the order of time; if it is meant, write it in full.",
  ],
  [
    "1400 md tw\n1300 pt",
    "1300 is before the clock above it, 14:00. Write the lines in the order of time; a later day is named: 2026-05-16/1300.",
  ],
  [
    "620 md tw\n620 pt",
    "The stint above would have no time. Two rods at once stand on one line, with | between.",
  ],
  ["620 md tw -40m\n650x", "The stint above says more minutes than its 30 have room for."],
  ["+25 md tw", "There is no clock above from which to count the minutes."],
  ["620 md tw pt", "Two presentations: write + between them if fished in turn, | if at once."],
  ["620 md ck+", "Another presentation is wanted behind the + or |."],
  ["620 md tw.mx", '"x" is no fate: m missed, l lost, b bitten off; f follow, g hung up, k lure lost.'],
  ["620 md tw.3f", "A number stands behind its letter: f3."],
  [
    "620 md tw rd24x",
    '"x" says nothing of a fish: r released, k kept, w2.5 weight, @645 when, :f on the fall, /lip hooked where.',
  ],
  ["620 md tw rd0", "A length is more than nothing."],
  ["620 md tw st*0", "0 fish: a number from 1 to 200 is wanted after the star."],
  ["620 md qq", '"qq" is no code of yours. Wanted here: a presentation or a fish.'],
  ["620 qq", '"qq" is no code of yours. Wanted here: a spot or a presentation or a fish.'],
  ["bow> 620 tw", '"bow" is no code of yours. Wanted here: an angler.'],
  ["rd> 620 tw", '"rd" is a fish, red drum. Wanted here: an angler.'],
  ["tw", "A stint begins with a clock (620), minutes after the last (+25), minutes alone (45m) or ?."],
  [
    "620 md pt/s",
    'How it was worked: "s" may be more than one word. Write slow, steady, slight-slack, slack, surface.',
  ],
  ["620 md pt*0", '"0" is no number of rods: 1 to 500.'],
  ['1000 md "tt?"', '"?" is no presentation\'s mark.'],
  ['1000 md "tt', "The strip wants a quotation mark at its end."],
  ['1000 md "tt".m,,g', "The strip has 2 ticks, and this would be one more."],
  ['1000 md "t-".m,g', "Nobody fished in tick 2 of the strip."],
  ['1000 md "tt"\n1010 pt', "The strip above runs to 10:20. Give a later clock, or take ticks off it."],
  ["@ w", '"w" wants a value behind it.'],
  ["@ w400", "204.444 °C is too large: it must be at most 45 °C."],
  ["@ v murky", 'Visibility: "murky" is none of them. Write clear, slightly-stained, stained, muddy.'],
  [
    "@ zz 4",
    '"zz" is no reading. Write w, v, col, secchi, sal, dep, mov, bank, wind, from, cloud, baro, baro3h, bait, boats.',
  ],
  ["930x rd24", "After x nobody fishes until the next clock: nothing can stand behind it."],
  [
    "620 md tw !q",
    'Why it was changed: "q" is none of them. Write planned, slow, lost-or-fouled, moved, saw-something.',
  ],
  ["2026-02-30", "There is no 2026-02-30 in the calendar."],
])("%s has its sentence", (typed, sentence) => {
  expect(sentences(typed)).toEqual([sentence])
})
