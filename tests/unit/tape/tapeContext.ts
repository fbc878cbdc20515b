import { presentations } from "../../../core/demo/presentations.ts"
import { allSpecies, anglers, spots, zone } from "../../../core/demo/scenario.ts"
import type { TapeContext } from "../../../core/tape/context.ts"
import { namesOf } from "../../../core/tape/names.ts"
import type { CodedEver, CodeKind } from "../../../shared/codes.ts"
import { presets } from "../../../shared/readerUnits.ts"

type Thing = {
  readonly key: string
  readonly name: string
  readonly code?: string | null | undefined
  readonly mark?: string | null | undefined
}

const coded = (kind: CodeKind, of: readonly Thing[]): CodedEver[] =>
  of.map(({ key, name, code, mark }) => ({
    kind,
    id: key,
    name,
    code: code ?? null,
    mark: mark ?? null,
    retired: false,
    deleted: false,
  }))

/** The sample's names, their keys for ids. */
export const sampleNames = namesOf([
  ...coded("spot", spots),
  ...coded("presentation", presentations),
  ...coded("species", allSpecies),
  ...coded("angler", anglers),
])

/** A day of Tobin's on the sample's coast, in US units. */
export const tapeContext = (wanted: Partial<TapeContext> = {}): TapeContext => ({
  place: { date: "2026-05-15", zone, start_at: null },
  names: sampleNames,
  reader: presets.us,
  first_angler: "angler tob",
  anglers: 2,
  first_spot: null,
  ...wanted,
})
