import { convert } from "../../../shared/units.ts"
import { harmonicCurrent, type CurrentCurve } from "../current/currentCurve.ts"
import { shiftedCurrent } from "../current/shiftedCurrent.ts"
import { kilometresBetween, type Place } from "../place.ts"
import { shiftedTide } from "../tide/shiftedTide.ts"
import { harmonicTide, type TideCurve } from "../tide/tideCurve.ts"
import { kept } from "./kept.ts"
import { stationFile, type ListedStation, type StationLine } from "./stationFile.ts"

export type StationKind = ListedStation["kind"]

/** A station and how far it lies from a place. */
export type NearStation = { readonly station: ListedStation; readonly distance_km: number }

/** A station's predictions. Its datum is the reference's where it has only offsets. */
export type StationTide = {
  readonly station: ListedStation
  readonly datum: string
  readonly curve: TideCurve
}
export type StationCurrent = { readonly station: ListedStation; readonly curve: CurrentCurve }

/** Every station that predictions can be made for: those that come with the product, and the user's own. */
export type Stations = {
  find(id: string): ListedStation | null
  /** The station of that id, else those whose name or id holds every one of these words, in any case; by name. */
  search(words: readonly string[], count: number): ListedStation[]
  /** The nearest stations of one kind, nearest first, great-circle distances; land between is not seen. */
  nearest(kind: StationKind, place: Place, count: number): NearStation[]
  tide(id: string): StationTide | null
  current(id: string): StationCurrent | null
}

/** Curves kept at once: more than a logbook uses; a search that tries many stations does not fill the memory. */
const curvesKept = 64
const tideCurves = kept<string, { readonly known: StationTide | null }>(curvesKept)
const currentCurves = kept<string, { readonly known: StationCurrent | null }>(curvesKept)

/** The stations that come with the product, and the given ones besides; an own station hides none of the others. */
export function stationsWith(own: readonly StationLine[]): Stations {
  if (own.length === 0) return catalogue
  const ownById = new Map(own.map((line) => [line.id, line]))
  const list = [...own.map(listed), ...stationFile().list]
  const read = (id: string) => ownById.get(id) ?? stationFile().read(id)
  return {
    find: (id) => list.find((station) => station.id === id) ?? null,
    search: (words, count) => searchIn(list, words, count),
    nearest: (kind, place, count) => nearestOf(list, kind, place, count),
    tide: (id) => (ownById.has(id) ? tideOf(id, read) : catalogue.tide(id)),
    current: (id) => (ownById.has(id) ? currentOf(id, read) : catalogue.current(id)),
  }
}

const listed = ({ id, name, lat, lon, kind, ...line }: StationLine): ListedStation => ({
  id,
  name,
  lat,
  lon,
  kind,
  ...("reference" in line ? { reference: line.reference } : {}),
})

const catalogue: Stations = {
  find: (id) => stationFile().list.find((station) => station.id === id) ?? null,
  search: (words, count) => searchIn(stationFile().list, words, count),
  nearest: (kind, place, count) => nearestOf(stationFile().list, kind, place, count),
  tide: (id) => tideCurves(id, () => ({ known: tideOf(id, stationFile().read) })).known,
  current: (id) => currentCurves(id, () => ({ known: currentOf(id, stationFile().read) })).known,
}

function searchIn(list: readonly ListedStation[], words: readonly string[], count: number): ListedStation[] {
  const exact = list.find(({ id }) => id.toLowerCase() === words.join(" ").toLowerCase())
  if (exact !== undefined) return [exact]
  const sought = words.map((word) => word.toLowerCase())
  return list
    .filter(({ id, name }) => sought.every((word) => `${id} ${name}`.toLowerCase().includes(word)))
    .toSorted((a, b) => a.name.localeCompare(b.name, "en"))
    .slice(0, count)
}

function nearestOf(
  list: readonly ListedStation[],
  kind: StationKind,
  place: Place,
  count: number,
): NearStation[] {
  const found: NearStation[] = []
  for (const station of list) {
    if (station.kind !== kind) continue
    const distance_km = kilometresBetween(place, station)
    if (found.length === count && distance_km >= (found.at(-1)?.distance_km ?? 0)) continue
    const after = found.findIndex((known) => known.distance_km > distance_km)
    found.splice(after < 0 ? found.length : after, 0, { station, distance_km })
    if (found.length > count) found.pop()
  }
  return found
}

type ReadLine = (id: string) => StationLine | null

function tideOf(id: string, read: ReadLine): StationTide | null {
  const line = read(id)
  if (line === null || line.kind !== "tide") return null
  if ("constants" in line) {
    const constants = line.constants.map(([name, amplitude, phase_deg]) => ({ name, amplitude, phase_deg }))
    const curve = harmonicTide(constants, line.mean_m, line.great_diurnal_range_m)
    return { station: listed(line), datum: line.datum, curve }
  }
  const reference = line.reference === id ? null : catalogue.tide(line.reference)
  return reference === null
    ? null
    : { station: listed(line), datum: reference.datum, curve: shiftedTide(reference.curve, line.offsets) }
}

function currentOf(id: string, read: ReadLine): StationCurrent | null {
  const line = read(id)
  if (line === null || line.kind !== "current") return null
  if ("constants" in line) {
    const constants = line.constants.map(([name, knots, phase_deg]) => ({
      name,
      amplitude: convert(knots, "kn", "ms"),
      phase_deg,
    }))
    return {
      station: listed(line),
      curve: harmonicCurrent(constants, convert(line.mean_flow_kn, "kn", "ms"), line),
    }
  }
  const reference = line.reference === id ? null : catalogue.current(line.reference)
  return reference === null
    ? null
    : { station: listed(line), curve: shiftedCurrent(reference.curve, line.offsets, line) }
}
