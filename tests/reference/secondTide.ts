import { stationsById, type Station } from "@neaps/tide-database"
import { createTidePredictor } from "@neaps/tide-predictor"

/** A tide as another program has it: heights above the station's datum in metres, instants in UTC ms. */
export type SecondTide = {
  heightAt(at: number): number
  waters(from: number, to: number): { kind: "high" | "low"; at: number; height_m: number }[]
}

/**
 * Left out of the comparison: the other program's argument of M1 holds the perigee's longitude, and its node phase is the one
 * that Schureman (1958, table 2) gives for an argument without it, so that the two are apart by that longitude.
 */
export const incomparable = "M1"

/**
 * A station's tide by other people's code (@neaps/tide-predictor, MIT), a development dependency, from the package that the
 * shipped stations are taken from, but for `incomparable`. Its M3 stands half a turn from the convention of the constants
 * that it is given, so the phase is turned back; node factors are Schureman's, as the source's are; heights are above mean
 * lower low water.
 */
export function secondTide(id: string): SecondTide {
  const station = packageStation(id)
  const { offsets } = station
  const { datums, harmonic_constituents } =
    offsets === undefined ? station : packageStation(offsets.reference.replace("noaa/", ""))
  const { MSL, MLLW } = datums
  if (MSL === undefined || MLLW === undefined)
    throw new Error(`${id} has no mean level above lower low water`)
  const constants = harmonic_constituents
    .filter(({ name }) => name !== incomparable)
    .map((told) => (told.name === "M3" ? { ...told, phase: (told.phase + 180) % 360 } : told))
  const predictor = createTidePredictor(constants, { offset: MSL - MLLW, nodeCorrections: "schureman" })
  const shifted = offsets === undefined ? {} : { offsets }
  return {
    heightAt: (at) => {
      const span = { start: new Date(at), end: new Date(at + 1000) }
      const [told] = predictor.getTimelinePrediction({ ...span, ...shifted, timeFidelity: 1 })
      return told?.level ?? Number.NaN
    },
    waters: (from, to) =>
      predictor
        .getExtremesPrediction({ start: new Date(from), end: new Date(to), ...shifted })
        .map(({ time, level, high }) => ({
          kind: high ? "high" : "low",
          at: time.getTime(),
          height_m: level,
        })),
  }
}

/** A station of the package by the id that it has with us. */
export function packageStation(id: string): Station {
  const station = stationsById.get(`noaa/${id}`)
  if (station === undefined) throw new Error(`the package has no station ${id}`)
  return station
}
