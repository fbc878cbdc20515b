import { stationFits, type StationSeen } from "../../../shared/places.ts"
import { coordinatesText } from "../coordinates.ts"
import { kilometresBetween, type Place } from "../place.ts"
import { reach_km } from "../spotWater.ts"
import type { StationKind, Stations } from "./stations.ts"
import { stationFile, type ListedStation } from "./stationFile.ts"

export type StationFit = (typeof stationFits)[number]

/** Upper ends of "at the place" and "near", kilometres; "far" ends where a station is no longer taken unasked. Ours. */
const limits_km = { tide: [2, 10], current: [0.5, 1] } as const

/** How well a station stands for a place as far as distance tells, which cannot see marsh and islands between. */
function stationFit(kind: StationKind, distance_km: number): StationFit {
  const [at, near] = limits_km[kind]
  if (distance_km <= at) return "at the place"
  if (distance_km <= near) return "near"
  return distance_km <= reach_km[kind] ? "far" : "too far"
}

const words = {
  tide: {
    "at the place": "It stands for the place.",
    near: "It is near; creeks turn later than the sound, so compare it with what you see.",
    far: "It is far: times and heights may differ; compare it with what you see before you rely on it.",
    "too far": "It is too far to stand for the place.",
  },
  current: {
    "at the place": "It stands for this very water.",
    near: "It is near, but a current holds for little water: compare it with what you see.",
    far: "It is far for a current: other channels turn at other times.",
    "too far": "It is too far to stand for this water.",
  },
} as const satisfies Record<StationKind, Record<StationFit, string>>

/** A station as seen from a place (null where that is unknown), with its distance and a word on how well it fits. */
export function stationSeen(station: ListedStation, place: Place | null, stations: Stations): StationSeen {
  const distance_km = place === null ? null : kilometresBetween(place, station)
  const fit = distance_km === null ? null : stationFit(station.kind, distance_km)
  const reference = station.reference === undefined ? null : stations.find(station.reference)
  const away = distance_km === null ? "" : `${distance_km.toFixed(1)} km away. `
  const follows = reference === null ? "" : ` Worked out from ${reference.name} by offsets.`
  return {
    id: station.id,
    name: station.name,
    kind: station.kind,
    lat: station.lat,
    lon: station.lon,
    own: !stationFile().has(station.id),
    distance_km,
    reference: reference === null ? null : { id: reference.id, name: reference.name },
    fit,
    word: `${away}${fit === null ? "There are no coordinates to measure from." : words[station.kind][fit]}${follows}`,
  }
}

/**
 * A doubt about a place with no tide station in reach (null where there is none): whether latitude and longitude changed
 * places, since the other way round it would lie near one.
 */
export function doubtAbout(place: Place, stations: Stations): string | null {
  const turned = { lat: place.lon, lon: place.lat }
  const inReach = (near: Place) =>
    stations.nearest("tide", near, 1).find(({ distance_km }) => distance_km <= reach_km.tide)
  if (Math.abs(turned.lat) > 90 || inReach(place) !== undefined) return null
  const found = inReach(turned)
  return found === undefined
    ? null
    : `Were latitude and longitude swapped? The other way round, at ${coordinatesText(turned, "minutes")}, this place would be ${found.distance_km.toFixed(1)} km from ${found.station.name}.`
}

/** That no coast is near, in words: why no tide is told for a place unasked; null where a tide station is in reach. */
export function noneInReach(place: Place, stations: Stations): string | null {
  const [nearest] = stations.nearest("tide", place, 1)
  if (nearest === undefined || nearest.distance_km <= reach_km.tide) return null
  return `No tide station is within ${reach_km.tide} km of ${coordinatesText(place, "minutes")}, so no tide is told there unless you choose one. The US National Ocean Service, whose stations these are, predicts the coasts of the United States, the Caribbean, Central America and islands of the Pacific.`
}

/** The nearest stations of each kind to a place, nearest first, each with a word on how well it fits. */
export function stationsNear(
  place: Place,
  count: number,
  stations: Stations,
): Record<StationKind, StationSeen[]> {
  const near = (kind: StationKind) =>
    stations.nearest(kind, place, count).map(({ station }) => stationSeen(station, place, stations))
  return { tide: near("tide"), current: near("current") }
}
