import { stationsById, type Station } from "@neaps/tide-database"
import { createTidePredictor } from "@neaps/tide-predictor"

/**
 * A station's tide by other people's code (@neaps/tide-predictor, MIT), a development dependency, from the package that the
 * shipped stations are taken from. Its M3 stands half a turn from the convention of the constants that it is given, so the
 * phase is turned back; node factors are Schureman's, as the source's are; heights are above mean lower low water, metres.
 */
export function secondTide(id: string): ReturnType<typeof createTidePredictor> {
  const station = packageStation(id)
  const { MSL, MLLW } = station.datums
  if (MSL === undefined || MLLW === undefined)
    throw new Error(`${id} has no mean level above lower low water`)
  const constants = station.harmonic_constituents.map((told) =>
    told.name === "M3" ? { ...told, phase: (told.phase + 180) % 360 } : told,
  )
  return createTidePredictor(constants, { offset: MSL - MLLW, nodeCorrections: "schureman" })
}

/** A station of the package by the id that it has with us. */
export function packageStation(id: string): Station {
  const station = stationsById.get(`noaa/${id}`)
  if (station === undefined) throw new Error(`the package has no station ${id}`)
  return station
}
