import { expect, test } from "vitest"
import { api, type Input, type Output } from "../../../shared/api.ts"
import { makeService } from "../../../core/service/service.ts"
import type { Logbook } from "../../../core/store/logbook.ts"
import { context } from "../exchange/importing.ts"
import { temporaryLogbook } from "../store/temporaryLogbook.ts"

function serviceOf(book: Logbook) {
  const service = makeService(
    book,
    async () => Promise.reject(new Error("nothing is asked")),
    () => undefined,
  )
  return {
    save: (input: Input<"spots.save">) =>
      service["spots.save"](api["spots.save"].input.parse(input), context),
    keep: (input: Input<"stations.save">) =>
      service["stations.save"](api["stations.save"].input.parse(input), context),
    near: (lat: number, lon: number) =>
      service["stations.near"](api["stations.near"].input.parse({ lat, lon }), context),
    /** The spot of a name as the list shows it, checked against the contract. */
    listed: async (name: string): Promise<Output<"spots.list">[number]> => {
      const spots = api["spots.list"].output.parse(await service["spots.list"]({}, context))
      const found = spots.find((spot) => spot.name === name)
      if (found === undefined) throw new Error(`no spot ${name}`)
      return found
    },
  }
}

test("a spot saved by coordinates as typed has its place, its zone and the stations that stand for it", async () => {
  const { save, listed } = serviceOf(temporaryLogbook())
  const { spot, stints } = await save({ name: "North bar", coordinates: "31 23.4 N 81 17.28 W" })
  expect(spot.lat).toBeCloseTo(31.39, 9) // minutes of arc round in the last place
  expect(spot.lon).toBeCloseTo(-81.288, 9)
  expect([spot.zone, spot.tide_station, stints]).toEqual(["America/New_York", null, 0])
  const { tide } = await listed("North bar")
  expect(tide).toMatchObject({ id: "8675622", fit: "at the place", own: false })
  expect(tide?.word).toMatch(/^0\.\d km away\. It stands for the place\. Worked out from .* by offsets\.$/)
})

test("a spot whose coordinates seem swapped is doubted in the list, one at the coast or far from any tide is not", async () => {
  const { save, listed } = serviceOf(temporaryLogbook())
  await save({ name: "Swapped", coordinates: "-81.288, 31.39" })
  await save({ name: "Right", coordinates: "31.39, -81.288" })
  await save({ name: "Inland", coordinates: "46.81, -100.78" })
  expect((await listed("Swapped")).doubt).toMatch(/^Were latitude and longitude swapped\?.*Old Tower\.$/)
  expect([(await listed("Right")).doubt, (await listed("Inland")).doubt]).toEqual([null, null])
})

test("stations nearby come nearest first, of both kinds apart, each with its distance and a word on how well it fits", async () => {
  const { near } = serviceOf(temporaryLogbook())
  const { tide, current } = await near(31.39, -81.288)
  for (const [kind, some] of [
    ["tide", tide],
    ["current", current],
  ] as const) {
    expect(some).toHaveLength(5)
    expect(new Set(some.map((station) => station.kind))).toEqual(new Set([kind]))
    const distances = some.map((station) => station.distance_km ?? Number.NaN)
    expect(distances).toEqual(distances.toSorted((a, b) => a - b))
    for (const { distance_km, fit, word } of some) {
      expect(word).toContain(`${(distance_km ?? Number.NaN).toFixed(1)} km away`)
      expect(fit).not.toBeNull()
    }
  }
  const inland = await near(46.81, -100.78)
  expect(inland.tide[0]?.fit).toBe("too far")
  expect(inland.tide[0]?.word).toContain("It is too far to stand for the place")
})

test("a current is taken unasked only where its station stands in the very water", async () => {
  const { save, near, listed } = serviceOf(temporaryLogbook())
  const [{ id, lat, lon } = { id: "", lat: 0, lon: 0 }] = (await near(32.04, -80.88)).current
  await save({ name: "Entrance", lat, lon })
  expect((await listed("Entrance")).current).toMatchObject({ id, fit: "at the place" })
  await save({ name: "Marsh", coordinates: "31.39, -81.5" }) // ten kilometres up from the sound
  expect((await listed("Marsh")).current).toBeNull()
})

test("a station that was chosen stays chosen, near or far, and is taken away by saying none", async () => {
  const { save, listed } = serviceOf(temporaryLogbook())
  const { spot } = await save({ name: "North bar", coordinates: "31.39, -81.288", tide_station: "8670870" })
  const { id } = spot
  const far = await listed("North bar")
  expect(far.tide).toMatchObject({ id: "8670870", fit: "too far" })
  await save({ id, coordinates: "31.5, -81.3" })
  await save({ id, lag_high_min: 12 })
  expect(await listed("North bar")).toMatchObject({ tide_station: "8670870", lag_high_min: 12, lat: 31.5 })
  await save({ id, tide_station: null })
  expect((await listed("North bar")).tide?.id).not.toBe("8670870")
})

test("what is not named of a spot stays as it is", async () => {
  const { save } = serviceOf(temporaryLogbook())
  const whole: Input<"spots.save"> = {
    name: "North bar",
    coordinates: "31.39, -81.288",
    code: "nb",
    ground: "mud",
    usual_depth_m: 1.5,
    slack_after_high_min: 70,
    slack_after_low_min: 62,
    slack_source: "own, June 2026",
    notes: "oysters on the point",
  }
  const { spot } = await save(whole)
  const { spot: renamed } = await save({ id: spot.id, name: "South bar" })
  expect(renamed).toEqual({ ...spot, name: "South bar" })
  const { spot: emptied } = await save({ id: spot.id, ground: null, notes: null })
  expect(emptied).toEqual({ ...renamed, ground: null, notes: null })
})

test("a zone follows the place when it moves, unless one is said", async () => {
  const { save } = serviceOf(temporaryLogbook())
  const { spot } = await save({ name: "Bar", coordinates: "31.39, -81.288" })
  const zoneAfter = async (change: Input<"spots.save">) => (await save({ id: spot.id, ...change })).spot.zone
  expect(await zoneAfter({ coordinates: "29.3, -94.79" })).toBe("America/Chicago")
  expect(await zoneAfter({ zone: "America/New_York" })).toBe("America/New_York")
  expect(await zoneAfter({ notes: "same place" })).toBe("America/New_York")
  expect(await zoneAfter({ coordinates: "31.39, -81.288", zone: "America/Chicago" })).toBe("America/Chicago")
})

test("a spot without coordinates has what was chosen for it and nothing else, and a name is had once", async () => {
  const { save, listed } = serviceOf(temporaryLogbook())
  await save({ name: "Somewhere" })
  expect(await listed("Somewhere")).toMatchObject({ lat: null, zone: null, tide: null, current: null })
  await save({ name: "Elsewhere", tide_station: "8675622" })
  const elsewhere = await listed("Elsewhere")
  expect(elsewhere.tide).toMatchObject({ id: "8675622", distance_km: null, fit: null })
  expect(elsewhere.tide?.word).toMatch(/no coordinates to measure from/)
  await expect(save({ name: "somewhere" })).rejects.toThrow(/a spot somewhere already/)
})

test("a station of one's own is listed with the others, stands for a spot, and hides none", async () => {
  const { save, keep, near, listed } = serviceOf(temporaryLogbook())
  const constants = new TextEncoder().encode("name,amplitude_m,phase_deg_gmt\nM2,1,0\nK1,0.1,0\n")
  const { id } = await keep({
    name: "Upper dock",
    lat: 31.4,
    lon: -81.3,
    source: "own readings, June 2026",
    prediction: {
      how: "tide constants",
      file: { name: "mine.csv", bytes: constants },
      datum: "my mark",
      mean_m: 1.2,
    },
  })
  const { tide } = await near(31.4, -81.3)
  expect(tide[0]).toMatchObject({ id, own: true, distance_km: 0, reference: null, fit: "at the place" })
  expect(tide.slice(1).map((station) => station.own)).toEqual([false, false, false, false])
  await save({ name: "Bar", coordinates: "31.4, -81.3" })
  expect((await listed("Bar")).tide).toMatchObject({ id, own: true })
})
