import { add, type OpenChange } from "../store/put.ts"
import type { SampleRows } from "./rows.ts"
import { atOnce, type Steps } from "./steps.ts"

/** Stores a sample in a new logbook, inside the caller's transaction. Returns the id given to each key. */
export const storeSample = (change: OpenChange, sample: SampleRows): ReadonlyMap<string, string> =>
  atOnce(storingSample(change, sample))

/** The same, a step a row where there are many. */
export function* storingSample(change: OpenChange, sample: SampleRows): Steps<ReadonlyMap<string, string>> {
  const ids = new Map<string, string>()
  const idOf = (key: string): string => {
    const id = ids.get(key)
    if (id === undefined) throw new Error(`no row "${key}" was stored before`)
    return id
  }
  const maybe = (key: string | null | undefined): string | null => (key ? idOf(key) : null)

  for (const { key, ...row } of sample.anglers) ids.set(key, add(change, "angler", row))
  for (const { key, ...row } of sample.spots) ids.set(key, add(change, "spot", row))
  for (const { key, ...row } of sample.species) ids.set(key, add(change, "species", row))
  for (const { key, ...row } of sample.lure_classes) ids.set(key, add(change, "lure_class", row))
  for (const { key, ...row } of sample.lures)
    ids.set(key, add(change, "lure", { ...row, lure_class_id: maybe(row.lure_class_id) }))
  for (const { key, ...row } of sample.rigs) ids.set(key, add(change, "rig", row))
  for (const { key, ...row } of sample.retrieves) ids.set(key, add(change, "retrieve", row))
  for (const { key, ...row } of sample.presentations)
    ids.set(
      key,
      add(change, "presentation", {
        ...row,
        lure_id: maybe(row.lure_id),
        rig_id: maybe(row.rig_id),
        retrieve_id: maybe(row.retrieve_id),
      }),
    )
  for (const { key, ...row } of sample.trips)
    ids.set(key, add(change, "trip", { ...row, target_species_id: maybe(row.target_species_id) }))
  for (const row of sample.trip_anglers)
    add(change, "trip_angler", { trip_id: idOf(row.trip_id), angler_id: idOf(row.angler_id) })
  for (const { key, ...row } of sample.stops) {
    ids.set(key, add(change, "stop", { ...row, trip_id: idOf(row.trip_id), spot_id: maybe(row.spot_id) }))
    yield
  }
  for (const { key, ...row } of sample.stints) {
    const stint = {
      ...row,
      stop_id: idOf(row.stop_id),
      presentation_id: maybe(row.presentation_id),
      angler_id: maybe(row.angler_id),
    }
    ids.set(key, add(change, "stint", stint))
    yield
  }
  for (const row of sample.strikes) {
    add(change, "strike", { ...row, stint_id: idOf(row.stint_id), species_id: maybe(row.species_id) })
    yield
  }
  for (const row of sample.observations) {
    const reading = {
      ...row,
      trip_id: idOf(row.trip_id),
      stop_id: maybe(row.stop_id),
      stint_id: maybe(row.stint_id),
    }
    add(change, "observation", reading)
    yield
  }
  for (const row of sample.settings) add(change, "setting", row)
  return ids
}
