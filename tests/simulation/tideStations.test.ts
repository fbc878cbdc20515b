// Thirty years of tides and currents, ten at each of some stations drawn by seed from those that ship, on every coast: no number that is
// none, no gap and no jump, at New Year neither. Nothing here is compared
// with the outside (tests/reference is): what is looked for is what only many stations and years would show.
import { uniformInt } from "pure-rand/distribution/uniformInt"
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus"
import { describe, expect, test } from "vitest"
import type { CurrentCurve } from "../../core/conditions/current/currentCurve.ts"
import { stationFile, type ListedStation } from "../../core/conditions/stations/stationFile.ts"
import { stationsWith } from "../../core/conditions/stations/stations.ts"
import { cosinesOfYear, motionAt } from "../../core/conditions/tide/harmonicSum.ts"
import { drawStations } from "../unit/conditions/shippedStations.ts"

const stations = stationsWith([])
const minute = 60_000
const hour = 60 * minute
const day = 24 * hour
const newYear = (year: number): number => Date.UTC(year, 0, 1)
const iso = (at: number): string => new Date(at).toISOString()

/** Each decade with a third of the stations: the curves of all stations for thirty years would fill a gigabyte, and take a minute. */
const decades = [2000, 2010, 2020]
const thirdOf = <Station>(drawn: readonly Station[], first: number): Station[] =>
  drawn.filter((_, i) => i % decades.length === decades.indexOf(first))
const yearsFrom = (first: number): number[] => Array.from({ length: 10 }, (_, i) => first + i)

/** Instants of a year, drawn by seed. */
function instantsOf(year: number, count: number): number[] {
  const random = xoroshiro128plus(year)
  return Array.from({ length: count }, () => uniformInt(random, newYear(year), newYear(year + 1)))
}

/** A constituent's amplitude at the station that a station's tide comes from. */
function amplitudeAt(id: string, name: string): number {
  const line = stationFile().read(id)
  if (line === null || line.kind !== "tide") throw new Error(`no tide station ${id}`)
  if ("reference" in line) return amplitudeAt(line.reference, name)
  return line.constants.find(([told]) => told === name)?.[1] ?? 0
}

/**
 * The longest time between two waters that is no gap, by the type of tide (Pugh 1987, from memory): a diurnal tide may be
 * all but out for days, and its waters then differ by less than the 3 cm that count; any other has one within a day.
 */
function longestGap(id: string): number {
  const of = (name: string) => amplitudeAt(id, name)
  return (of("K1") + of("O1")) / (of("M2") + of("S2")) > 3 ? 72 * hour : 20 * hour
}

type Event = { readonly at: number; readonly kind: string }

/** Faults in the order of a station's events: `follows` says which kind comes after which. */
function faultsInOrder(
  told: (at: number) => readonly Event[],
  years: readonly number[],
  longest: number,
  follows: (kind: string, last: string) => boolean,
): string[] {
  const faults: string[] = []
  let last: Event | null = null
  for (const year of years) {
    const list = told(newYear(year))
    if (seam(list, year) !== seam(told(newYear(year) - 1), year))
      faults.push(`New Year ${year} told in two ways`)
    for (const event of list) {
      if (event.at < newYear(year) || event.at >= newYear(year + 1)) continue
      if (last !== null && event.at <= last.at) faults.push(`${iso(event.at)}: not after the last`)
      if (last !== null && !follows(event.kind, last.kind))
        faults.push(`${iso(event.at)}: ${event.kind} again`)
      if (last !== null && event.at - last.at > longest)
        faults.push(`${iso(event.at)}: ${((event.at - last.at) / hour).toFixed(0)} h after the last`)
      last = event
    }
  }
  return faults
}

/** The events of two days on both sides of a New Year, as one text. */
const seam = (events: readonly Event[], year: number): string =>
  JSON.stringify(events.filter(({ at }) => Math.abs(at - newYear(year)) < 2 * day))

/** Minutes in which a curve moves by something else than its rate, drawn by seed; and values that are no numbers. */
function jumps(
  valueAt: (at: number) => number | null,
  rateAt: (at: number) => number | null,
  years: readonly number[],
): string[] {
  // Within a minute the rate of the strongest tide changes by so little that a straight line errs by less than a millimetre.
  const bent = 0.001
  return years.flatMap((year) =>
    instantsOf(year, 60).flatMap((at) => {
      const moved = (valueAt(at + minute) ?? Number.NaN) - (valueAt(at) ?? Number.NaN)
      const expected = (rateAt(at + minute / 2) ?? Number.NaN) / 60
      return Math.abs(moved - expected) < bent
        ? []
        : [`${iso(at)}: moves by ${moved}, at a rate for ${expected}`]
    }),
  )
}

const following = (drawn: readonly ListedStation[]) =>
  drawn.toSorted((a, b) => ((a.reference ?? "") < (b.reference ?? "") ? -1 : 1))
const tides = [
  ["constants", drawStations({ kind: "tide", by: "constants" }, 80, 30)],
  ["offsets", following(drawStations({ kind: "tide", by: "offsets" }, 80, 31))],
] as const

describe.each(tides)("eighty tides by %s", (_, drawn) => {
  test.each(decades)("ten years from %i without gap, jump or hole", (first) => {
    expect(drawn).toHaveLength(80)
    const faults = thirdOf(drawn, first).flatMap(({ id }) => {
      const curve = stations.tide(id)?.curve
      if (curve === undefined) return [`${id}: no tide`]
      const years = yearsFrom(first)
      const waters = (at: number) => curve.watersAround(at).tides
      return [
        ...faultsInOrder(waters, years, longestGap(id), (kind, last) => kind !== last),
        ...jumps(curve.heightAt, curve.rateAt, years),
      ].map((fault) => `${id} ${fault}`)
    })
    expect(faults).toEqual([])
  })
})

/** What a current does, and what it does next. */
const after: Readonly<Record<string, string>> = {
  "slack before flood": "flood",
  flood: "slack before ebb",
  "slack before ebb": "ebb",
  ebb: "slack before flood",
}

const currents = [
  ["constants", drawStations({ kind: "current", by: "constants" }, 25, 32)],
  ["offsets", following(drawStations({ kind: "current", by: "offsets" }, 25, 33))],
] as const

describe.each(currents)("twenty-five currents by %s", (by, drawn) => {
  test.each(decades)("ten years from %i without jump or hole, each doing what comes next", (first) => {
    expect(drawn).toHaveLength(25)
    const years = yearsFrom(first)
    const faults = thirdOf(drawn, first).flatMap(({ id }) => {
      const curve = stations.current(id)?.curve
      if (curve === undefined) return [`${id}: no current`]
      // Where offsets make two events change places both are left out, and the order has a hole.
      const follows = (kind: string, last: string) => by === "offsets" || after[last] === kind
      return [
        ...faultsInOrder(curve.eventsAround, years, Infinity, follows),
        ...(by === "constants" ? jumps(curve.speedAt, changeOf(curve), years) : breaks(curve, years)),
      ].map((fault) => `${id} ${fault}`)
    })
    expect(faults).toEqual([])
  })
})

/** Change of a current's speed, m/s an hour, over two seconds. */
const changeOf = (curve: CurrentCurve) => (at: number) => {
  const [before, later] = [curve.speedAt(at - 1000), curve.speedAt(at + 1000)]
  return before === null || later === null ? null : (later - before) * 1800
}

/**
 * Slacks and strengths at which the speed of a current by offsets, which is joined there, is not what it should be. Those of
 * half a day about New Year are left to the test of its jumps.
 */
const breaks = (curve: CurrentCurve, years: readonly number[]): string[] =>
  years.flatMap((year) =>
    curve
      .eventsAround(newYear(year))
      .filter(({ at }) => at > newYear(year) + day / 2 && at < newYear(year + 1) - day / 2)
      .filter(({ at, speed_ms }) =>
        [at - 1, at].some((time) => Math.abs((curve.speedAt(time) ?? speed_ms) - speed_ms) > 1e-4),
      )
      .map(({ at, kind }) => `${iso(at)}: ${kind} is not at its speed`),
  )

const withConstants = (kind: ListedStation["kind"]): ListedStation[] =>
  stationFile().list.filter((station) => station.kind === kind && station.reference === undefined)

describe("New Year, when the node factors of the next year come in", () => {
  const minutes = Array.from({ length: 27 * 60 }, (_, i) => (i - 13.5 * 60) * minute)

  /** The most that a curve moves in a minute beyond its rate, about one New Year. */
  const roughest = (valueAt: (at: number) => number, slopeAt: (at: number) => number, at: number): number =>
    Math.max(
      ...minutes.map((m) =>
        Math.abs(valueAt(at + m + minute) - valueAt(at + m) - slopeAt(at + m + minute / 2)),
      ),
    )

  test("no tide of the home coast jumps by 2.5 cm, nor by a millimetre: one year passes into the next", () => {
    const coast = withConstants("tide").filter(
      ({ lat, lon }) => lat > 30.5 && lat < 34 && lon > -82 && lon < -78,
    )
    expect(coast.length).toBeGreaterThan(40)
    for (const { id } of coast) {
      const curve = stations.tide(id)?.curve
      if (curve === undefined) throw new Error(`no tide ${id}`)
      for (const year of [2010, 2019, 2026])
        expect(roughest(curve.heightAt, (at) => curve.rateAt(at) / 60, newYear(year))).toBeLessThan(0.001)
    }
  })

  test("nor does the tide that would jump by most, 13 cm at New Year 2010", () => {
    const curve = stations.tide("8410864")?.curve
    if (curve === undefined) throw new Error("no tide")
    expect(roughest(curve.heightAt, (at) => curve.rateAt(at) / 60, newYear(2010))).toBeLessThan(0.001)
  })

  test("three hours on either side the curve is its own year's, as published tables have it", () => {
    const line = stationFile().read("8670870")
    const curve = stations.tide("8670870")?.curve
    if (line === null || !("constants" in line) || line.kind !== "tide" || curve === undefined)
      throw new Error("no tide")
    const constants = line.constants.map(([name, amplitude, phase_deg]) => ({ name, amplitude, phase_deg }))
    for (const [at, year] of [
      [newYear(2026) - 3 * hour, 2025],
      [newYear(2026) + 3 * hour, 2026],
    ] as const)
      expect(curve.heightAt(at)).toBeCloseTo(
        line.mean_m + motionAt(cosinesOfYear(constants, year), at).value,
        9,
      )
  })
})
