import type { FactColumn, Facts } from "../../../core/facts.ts"
import { factorOf, isFactorId, type FactorId } from "../../../shared/factors.ts"
import { Ask } from "../../../shared/questions.ts"
import type { z } from "zod"
import type { ChangeReason, Fate } from "../../../shared/vocabulary.ts"

/** `at` in minutes from the stint's start. */
export type StrikeRecord = { fate: Fate; species?: string; length_mm?: number; at?: number }

/** One stint as a test writes it. Counts left out follow from the strikes; null says not counted, hours null unknown. */
export type StintRecord = {
  trip: string
  hours?: number | null
  stop?: number
  complete?: boolean
  clocked?: boolean
  row_is_trip?: boolean
  target?: string
  strikes?: readonly StrikeRecord[]
  /** So many landed fish without species or length, beside `strikes`. */
  fish?: number
  counted?: { strikes?: null; hook_ups?: null; landed?: null }
  hang_ups?: number | null
  follows?: number
  /** Minutes from an instant common to all stints; with `hours` it gives the end. */
  start?: number
  rods?: number
  why_changed?: ChangeReason
  late?: boolean
  factors?: Partial<Record<FactorId, string | number>>
}

const hooked: readonly Fate[] = ["landed", "lost", "bitten off", "hooked"]

/** Facts as the store would make them from these stints. */
export function factsOf(stints: readonly StintRecord[]): Facts {
  const strikesOf = (stint: StintRecord): StrikeRecord[] => [
    ...(stint.strikes ?? []),
    ...Array.from({ length: stint.fish ?? 0 }, (): StrikeRecord => ({ fate: "landed" })),
  ]
  const all = stints.flatMap((stint, i) => strikesOf(stint).map((strike) => ({ i, ...strike })))
  const species = [...new Set([...all.map((s) => s.species), ...stints.map((s) => s.target)])].filter(
    (name) => name !== undefined,
  )
  const trips = [...new Set(stints.map(({ trip }) => trip))]
  const numbers = (of: (stint: StintRecord) => number) => Float64Array.from(stints, of)
  const count = (stint: StintRecord, fates: readonly Fate[]) =>
    strikesOf(stint).filter(({ fate }) => fates.includes(fate)).length
  const ids = [...new Set(stints.flatMap((stint) => Object.keys(stint.factors ?? {})))].filter(isFactorId)
  return {
    version: 1,
    stints: stints.length,
    trips,
    trip_ids: trips.map((trip) => `id of ${trip}`),
    species,
    length_types: species.map((name) => (name === "bluefish" ? "fork" : "total")),
    trip: Int32Array.from(stints, ({ trip }) => trips.indexOf(trip)),
    stop: Int32Array.from(stints, ({ stop }, i) => stop ?? i),
    same_stop: new Uint8Array(stints.length).fill(1),
    complete: Uint8Array.from(stints, ({ complete }) => (complete === false ? 0 : 1)),
    clocked: Uint8Array.from(stints, ({ clocked }) => (clocked === false ? 0 : 1)),
    row_is_trip: Uint8Array.from(stints, ({ row_is_trip }) => (row_is_trip === true ? 1 : 0)),
    target: Int32Array.from(stints, ({ target }) => (target === undefined ? -1 : species.indexOf(target))),
    rod_hours: numbers(({ hours }) => (hours === null ? Number.NaN : (hours ?? 1))),
    minutes: numbers(({ hours, rods }) => (hours === null ? Number.NaN : ((hours ?? 1) * 60) / (rods ?? 1))),
    start: numbers(({ start }) => (start ?? Number.NaN) * 60_000),
    end: numbers(
      ({ start, hours, rods }) => ((start ?? Number.NaN) + ((hours ?? 1) * 60) / (rods ?? 1)) * 60_000,
    ),
    why_changed: stints.map(({ why_changed }) => why_changed ?? null),
    late: Uint8Array.from(stints, ({ late }) => (late === true ? 1 : 0)),
    follows: numbers(({ follows }) => follows ?? Number.NaN),
    strikes: numbers((s) => (s.counted?.strikes === null ? Number.NaN : strikesOf(s).length)),
    hook_ups: numbers((s) => (s.counted?.hook_ups === null ? Number.NaN : count(s, hooked))),
    landed: numbers((s) => (s.counted?.landed === null ? Number.NaN : count(s, ["landed"]))),
    hang_ups: numbers(({ hang_ups }) => (hang_ups === null ? Number.NaN : (hang_ups ?? 0))),
    strike: {
      stint: Int32Array.from(all, ({ i }) => i),
      fate: all.map(({ fate }) => fate),
      species: Int32Array.from(all, (s) => (s.species === undefined ? -1 : species.indexOf(s.species))),
      length_mm: Float64Array.from(all, ({ length_mm }) => length_mm ?? Number.NaN),
      at: Float64Array.from(
        all,
        ({ i, at }) => ((stints[i]?.start ?? Number.NaN) + (at ?? Number.NaN)) * 60_000,
      ),
    },
    factors: Object.fromEntries(ids.map((id) => [id, columnOf(stints, id)])),
  }
}

function columnOf(stints: readonly StintRecord[], id: FactorId): FactColumn {
  const values = stints.map((stint) => stint.factors?.[id])
  if (factorOf(id).kind !== "categorical")
    return { kind: "number", values: Float64Array.from(values, (value) => Number(value ?? Number.NaN)) }
  const levels = [...new Set(values)].filter((value) => value !== undefined).map(String)
  const codes = Int32Array.from(values, (value) => (value === undefined ? -1 : levels.indexOf(String(value))))
  return { kind: "level", codes, levels }
}

/** An ask as the service hands it on. */
export const askOf = (ask: z.input<typeof Ask>): Ask => Ask.parse(ask)

/** The same stint on `trips` trips named after `prefix`, fish and hours by the trip's number. */
export const overTrips = (
  prefix: string,
  trips: number,
  of: (trip: number) => Omit<StintRecord, "trip">,
): StintRecord[] => Array.from({ length: trips }, (_, i) => ({ trip: `${prefix} ${i + 1}`, ...of(i) }))
