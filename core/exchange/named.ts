import { entities } from "../../shared/entities.ts"
import type { FactorId } from "../../shared/factors.ts"
import { add, type OpenChange } from "../store/put.ts"
import { namesOf, type NamedEntity } from "../store/read/names.ts"
import type { RowDraft } from "./draft.ts"
import { lureParts, retrieveParts, rigParts, type Parts, type PlannedPresentation } from "./tackle.ts"

/** Gives the ids of things that rows name, making what the logbook does not have yet. */
export type Importer = {
  angler(name: string): string
  species(name: string): string
  spot(name: string, rows: readonly RowDraft[]): string
  presentation(planned: PlannedPresentation): string
}

const stamps = { id: true, created_at: true, updated_at: true, deleted_at: true } as const
const LureDraft = entities.lure.omit(stamps)
const RigDraft = entities.rig.omit(stamps)
const RetrieveDraft = entities.retrieve.omit(stamps)

/** Names are looked up once, when first needed; each new thing is made once. */
export function importer(change: OpenChange): Importer {
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
  const lureClass = (name: string) =>
    find("lure_class", name, () => add(change, "lure_class", { name, code: null }).id)

  return {
    angler: (name) => find("angler", name, () => add(change, "angler", { name, code: null, notes: null }).id),
    species: (name) =>
      find("species", name, () => add(change, "species", { name, code: null, ...noLimits }).id),
    spot: (name, rows) => find("spot", name, () => add(change, "spot", spotDraft(name, rows)).id),
    presentation: (planned) => {
      if (planned.id !== null) return planned.id
      const before = made.get(planned)
      if (before !== undefined) return before
      const lure = only(planned.parts, lureParts)
      const rig = only(planned.parts, rigParts)
      const retrieve = only(planned.parts, retrieveParts)
      const { id } = add(change, "presentation", {
        name: planned.name,
        code: null,
        mark: null,
        lure_id: part("lure", lure, () => {
          const { lure: name, lure_class: ofClass, ...words } = Object.fromEntries(lure)
          const lure_class_id = typeof ofClass === "string" ? lureClass(ofClass) : null
          const blank = {
            name: name ?? null,
            profile: null,
            lure_length_mm: null,
            colour: null,
            scented: null,
          }
          return add(
            change,
            "lure",
            LureDraft.parse({
              ...blank,
              lure_sound: null,
              imitates: null,
              price: null,
              ...words,
              lure_class_id,
            }),
          ).id
        }),
        rig_id: part(
          "rig",
          rig,
          () => add(change, "rig", RigDraft.parse({ ...blankRig, ...Object.fromEntries(rig) })).id,
        ),
        retrieve_id: part(
          "retrieve",
          retrieve,
          () =>
            add(
              change,
              "retrieve",
              RetrieveDraft.parse({ ...blankRetrieve, ...Object.fromEntries(retrieve) }),
            ).id,
        ),
        retired_at: null,
      })
      made.set(planned, id)
      return id
    },
  }
}

const only = (parts: Parts, ids: readonly FactorId[]): Parts =>
  new Map(ids.flatMap((id) => (parts.has(id) ? [[id, parts.get(id) ?? ""] as const] : [])))

const noLimits = {
  length_type: null,
  own_min_length_mm: null,
  own_max_length_mm: null,
  own_bag: null,
  limit_source: null,
  limit_date: null,
}
const blankRig = {
  name: null,
  head_weight_g: null,
  hook_shank: null,
  hook_style: null,
  cork_shape: null,
  cork_sound: null,
  cork_drop_mm: null,
  leader_length_mm: null,
  leader_strength_n: null,
  bait: null,
  sink: null,
  sink_seconds: null,
  sink_depth_m: null,
}
const blankRetrieve = {
  retrieve_style: null,
  actions_per_cycle: null,
  pause_s: null,
  pace: null,
  rhythm: null,
  line: null,
  water_column: null,
}

function spotDraft(name: string, rows: readonly RowDraft[]) {
  const placed = rows.find((row) => row.lat !== null && row.lon !== null)
  return {
    name,
    code: null,
    lat: placed?.lat ?? null,
    lon: placed?.lon ?? null,
    zone: null,
    ground: null,
    structure: null,
    usual_depth_m: null,
    tide_station: rows.find((row) => row.station !== null)?.station ?? null,
    current_station: null,
    lag_high_min: null,
    lag_low_min: null,
    slack_after_high_min: null,
    slack_after_low_min: null,
    slack_source: null,
    notes: null,
  }
}
