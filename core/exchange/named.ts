import { entities, stamps } from "../../shared/entities.ts"
import type { FactorId } from "../../shared/factors.ts"
import { add, type OpenChange } from "../store/put.ts"
import { namesOf, type NamedEntity } from "../store/read/names.ts"
import type { SpotPlace } from "./plan.ts"
import { lureParts, retrieveParts, rigParts, type Parts, type PlannedPresentation } from "./tackle.ts"

/** Gives the ids of things that rows name, making what the logbook does not have yet. */
export type Importer = {
  angler(name: string): string
  species(name: string): string
  spot(name: string): string
  presentation(planned: PlannedPresentation): string
}

const LureDraft = entities.lure.omit(stamps).partial()
const RigDraft = entities.rig.omit(stamps).partial()
const RetrieveDraft = entities.retrieve.omit(stamps).partial()

/** Names are looked up once, when first needed; each new thing is made once. */
export function importer(change: OpenChange, places: ReadonlyMap<string, SpotPlace>): Importer {
  const known = new Map<NamedEntity, Map<string, string>>()
  const find = (entity: NamedEntity, name: string, make: () => string): string => {
    let ids = known.get(entity)
    if (ids === undefined) {
      ids = new Map(namesOf(change.db, entity).map((row) => [row.name.toLowerCase(), row.id]))
      known.set(entity, ids)
    }
    const id = ids.get(name.toLowerCase()) ?? make()
    ids.set(name.toLowerCase(), id)
    return id
  }
  const made = new Map<PlannedPresentation, string>()
  const parts = new Map<string, string>()
  /** A lure, rig or retrieve with these parts, made once an import. */
  const part = (entity: "lure" | "rig" | "retrieve", values: Parts, make: () => string): string | null => {
    if (values.size === 0) return null
    const key = JSON.stringify([entity, ...values])
    const id = parts.get(key) ?? make()
    parts.set(key, id)
    return id
  }
  const lureClass = (name: string) => find("lure_class", name, () => add(change, "lure_class", { name }))

  return {
    angler: (name) => find("angler", name, () => add(change, "angler", { name })),
    species: (name) => find("species", name, () => add(change, "species", { name })),
    spot: (name) =>
      find("spot", name, () => {
        const place = places.get(name.toLowerCase())
        return add(change, "spot", { name, lat: place?.lat, lon: place?.lon, tide_station: place?.station })
      }),
    presentation: (planned) => {
      if (planned.id !== null) return planned.id
      const before = made.get(planned)
      if (before !== undefined) return before
      const lure = only(planned.parts, lureParts)
      const rig = only(planned.parts, rigParts)
      const retrieve = only(planned.parts, retrieveParts)
      const id = add(change, "presentation", {
        name: planned.name,
        lure_id: part("lure", lure, () => {
          const { lure: name, lure_class: ofClass, ...words } = Object.fromEntries(lure)
          const lure_class_id = typeof ofClass === "string" ? lureClass(ofClass) : null
          return add(change, "lure", { ...LureDraft.parse({ ...words, name: name ?? null }), lure_class_id })
        }),
        rig_id: part("rig", rig, () => add(change, "rig", RigDraft.parse(Object.fromEntries(rig)))),
        retrieve_id: part("retrieve", retrieve, () =>
          add(change, "retrieve", RetrieveDraft.parse(Object.fromEntries(retrieve))),
        ),
      })
      made.set(planned, id)
      return id
    },
  }
}

const only = (parts: Parts, ids: readonly FactorId[]): Parts =>
  new Map(ids.flatMap((id) => (parts.has(id) ? [[id, parts.get(id) ?? ""] as const] : [])))
