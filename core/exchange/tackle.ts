import { factorsAt, type FactorId } from "../../shared/factors.ts"
import type { PresentationParts } from "../store/read/presentations.ts"

type Value = number | string
export type Parts = ReadonlyMap<FactorId, Value>

/** A presentation that a row was fished with: one of the logbook's, or one to be made. */
export type PlannedPresentation = {
  /** Null until it is made. */
  readonly id: string | null
  readonly name: string
  readonly parts: Parts
  /** The cadence and bait it stands for, which a stint inherits unless its row says otherwise. */
  readonly cadence: Parts
}

/** The factors that make a lure, a rig and a retrieve; what differs from stint to stint (cadence) is not among them. */
export const lureParts = factorsAt("lure")
export const rigParts = factorsAt("rig")
export const retrieveParts = factorsAt("retrieve")
const partIds: readonly FactorId[] = [...lureParts, ...rigParts, ...retrieveParts]
const cadenceIds = factorsAt("cadence")

/**
 * Finds or makes the presentation of each row. A row that names a presentation and says nothing else of it takes it as
 * the logbook has it. A row that says parts gets the presentation with exactly these (and that name, if it says one);
 * a name already used for other parts gets a number.
 */
export class Tackle {
  readonly #byName = new Map<string, PlannedPresentation>()
  readonly #byParts = new Map<string, PlannedPresentation>()
  readonly #made: PlannedPresentation[] = []

  constructor(existing: readonly PresentationParts[]) {
    for (const row of existing) {
      const cells = new Map<string, Value | null>(Object.entries(row))
      const parts = pick(partIds, (id) => cells.get(id) ?? null)
      const presentation = {
        id: row.id,
        name: row.name,
        parts,
        cadence: pick(cadenceIds, (id) => cells.get(id) ?? null),
      }
      this.#keep(presentation, row.name)
    }
  }

  presentationFor(factors: Parts): PlannedPresentation | null {
    const name = factors.get("presentation")
    const parts = pick(partIds, (id) => factors.get(id) ?? null)
    if (typeof name !== "string") {
      if (parts.size === 0) return null
      return this.#byParts.get(keyOf(null, parts)) ?? this.#make(describe(parts), null, parts)
    }
    const known =
      parts.size === 0 ? this.#byName.get(name.toLowerCase()) : this.#byParts.get(keyOf(name, parts))
    return known ?? this.#make(name, name, parts)
  }

  /** Presentations that the logbook did not have. */
  made(): readonly PlannedPresentation[] {
    return this.#made
  }

  #make(wanted: string, said: string | null, parts: Parts): PlannedPresentation {
    let name = wanted
    for (let n = 2; this.#byName.has(name.toLowerCase()); n++) name = `${wanted} (${n})`
    const presentation = { id: null, name, parts, cadence: new Map() }
    this.#made.push(presentation)
    this.#keep(presentation, said)
    return presentation
  }

  #keep(presentation: PlannedPresentation, said: string | null): void {
    const { name, parts } = presentation
    this.#byName.set(name.toLowerCase(), presentation)
    if (said !== null) this.#byParts.set(keyOf(said, parts), presentation)
    if (!this.#byParts.has(keyOf(null, parts))) this.#byParts.set(keyOf(null, parts), presentation)
  }
}

function pick(ids: readonly FactorId[], read: (id: FactorId) => Value | null): Map<FactorId, Value> {
  const picked = new Map<FactorId, Value>()
  for (const id of ids) {
    const value = read(id)
    if (value !== null) picked.set(id, value)
  }
  return picked
}

const keyOf = (name: string | null, parts: Parts): string =>
  JSON.stringify([name?.toLowerCase() ?? null, ...parts])

function describe(parts: Parts): string {
  const words = [...parts].map(([id, value]) => {
    if (id === "head_weight_g") return `${value} g head`
    if (id === "scented") return value === "yes" ? "scented" : "unscented"
    if (id === "lure_length_mm") return `${value} mm`
    if (typeof value === "number") return `${id.replace(/_[a-z]+$/, "").replaceAll("_", " ")} ${value}`
    return value
  })
  return words.join(", ")
}
