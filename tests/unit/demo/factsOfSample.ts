import type { Sample } from "../../../core/demo/sample.ts"
import type { Sky } from "../../../core/demo/sky.ts"
import type { FactColumn, Facts } from "../../../core/facts.ts"
import { factorOf, type FactorId } from "../../../shared/factors.ts"
import { standInSky } from "./standInSky.ts"

type Stint = Sample["stints"][number]
type Value = number | string | null | undefined

/** A stint of a closed trip with everything around it. */
export type Around = {
  readonly stint: Stint
  readonly stop: Sample["stops"][number]
  readonly trip: Sample["trips"][number]
  readonly strikes: readonly Sample["strikes"][number][]
  readonly spot: Sample["spots"][number] | undefined
  readonly presentation: Sample["presentations"][number] | undefined
  readonly lure: Sample["lures"][number] | undefined
  readonly rig: Sample["rigs"][number] | undefined
  readonly retrieve: Sample["retrieves"][number] | undefined
  readonly lureClass: Sample["lure_classes"][number] | undefined
  readonly angler: Sample["anglers"][number] | undefined
  /** Of the middle of the stint as recorded; null without a clock. */
  readonly sky: Sky | null
}

const byKey = <R extends { readonly key: string }>(rows: readonly R[]) => {
  const known = new Map(rows.map((row) => [row.key, row]))
  return (key: string | null | undefined): R | undefined => (key ? known.get(key) : undefined)
}

/** The stints of closed trips, in the order in which the store gives them. */
export function stintsAround(sample: Sample): Around[] {
  const [stopOf, tripOf, spotOf] = [byKey(sample.stops), byKey(sample.trips), byKey(sample.spots)]
  const [presentationOf, lureOf, rigOf] = [
    byKey(sample.presentations),
    byKey(sample.lures),
    byKey(sample.rigs),
  ]
  const [retrieveOf, classOf, anglerOf] = [
    byKey(sample.retrieves),
    byKey(sample.lure_classes),
    byKey(sample.anglers),
  ]
  const strikes = Map.groupBy(sample.strikes, ({ stint_id }) => stint_id)
  return sample.stints.flatMap((stint) => {
    const stop = stopOf(stint.stop_id)
    const trip = tripOf(stop?.trip_id)
    if (stop === undefined || trip?.status !== "closed") return []
    const presentation = presentationOf(stint.presentation_id)
    const lure = lureOf(presentation?.lure_id)
    const spot = spotOf(stop.spot_id)
    return {
      stint,
      stop,
      trip,
      strikes: strikes.get(stint.key) ?? [],
      spot,
      presentation,
      lure,
      rig: rigOf(presentation?.rig_id),
      retrieve: retrieveOf(presentation?.retrieve_id),
      lureClass: classOf(lure?.lure_class_id),
      angler: anglerOf(stint.angler_id),
      sky: skyOf(stint, spot),
    }
  })
}

const skyOf = ({ start_at, end_at }: Stint, spot: Sample["spots"][number] | undefined): Sky | null =>
  start_at && end_at && spot !== undefined ? standInSky(Math.round((start_at + end_at) / 2), spot) : null

/** The factors that a test may ask about, as the store would tell them. */
const factorValue = {
  lure_class: ({ lureClass }) => lureClass?.name,
  presentation: ({ presentation }) => presentation?.name,
  colour: ({ lure }) => lure?.colour,
  head_weight_g: ({ rig }) => rig?.head_weight_g,
  pause_s: ({ stint, retrieve }) => stint.pause_s ?? retrieve?.pause_s,
  ground: ({ spot }) => spot?.ground,
  spot: ({ spot }) => spot?.name,
  angler: ({ angler }) => angler?.name,
  rods: ({ stint }) => stint.rods,
  light: ({ sky }) => sky?.light,
  tide_part: ({ sky }) => sky?.tide_part,
  moon_illum: ({ sky }) => sky?.moon_illum,
} as const satisfies Partial<Record<FactorId, (around: Around) => Value>>

export type SampleFactor = keyof typeof factorValue
export const isSampleFactor = (id: FactorId): id is SampleFactor => id in factorValue

const hooked: readonly string[] = ["landed", "lost", "bitten off"]

/** The facts of a sample without a file, with the named factors. */
export function factsOfSample(sample: Sample, needed: readonly SampleFactor[]): Facts {
  const stints = stintsAround(sample)
  const trips = codes(stints.map(({ trip }) => trip.key))
  const position = new Map(stints.map(({ stint }, i) => [stint.key, i]))
  const speciesByName = sample.species.toSorted((a, b) => (a.name < b.name ? -1 : 1))
  const species = new Map(speciesByName.map(({ key }, i) => [key, i]))
  const strikes = sample.strikes.filter(({ stint_id }) => position.has(stint_id))
  const counted = (flag: "misses" | "losses" | "landed" | "hang_ups") => (around: Around) =>
    (around.stint[`counted_${flag}`] ?? around.trip[`counted_${flag}`]) === 1
  const [misses, losses, landed, hangUps] = [
    counted("misses"),
    counted("losses"),
    counted("landed"),
    counted("hang_ups"),
  ]
  const numbers = (of: (around: Around) => number) => Float64Array.from(stints, of)
  const flags = (of: (around: Around) => boolean) => Uint8Array.from(stints, (around) => (of(around) ? 1 : 0))
  const count = (around: Around, fates: readonly string[]) =>
    around.strikes.filter(({ fate }) => fates.includes(fate)).length
  const known = (is: boolean, value: number) => (is ? value : Number.NaN)
  return {
    version: 1,
    stints: stints.length,
    trips: [...new Map(stints.map(({ trip }) => [trip.key, trip.date])).values()],
    trip_ids: [...new Set(stints.map(({ trip }) => trip.key))],
    species: speciesByName.map(({ name }) => name),
    length_types: speciesByName.map(({ length_type }) => length_type ?? null),
    trip: trips,
    stop: codes(stints.map(({ stop }) => stop.key)),
    same_stop: flags(({ stint }) => !stint.share_group),
    complete: flags(({ trip }) => trip.completeness === "complete"),
    clocked: flags(
      ({ stint }) =>
        stint.effort_source === "clocked" || stint.effort_source === "ticked" || !!stint.start_at,
    ),
    row_is_trip: new Uint8Array(stints.length),
    target: Int32Array.from(stints, ({ trip }) => species.get(trip.target_species_id ?? "") ?? -1),
    rod_hours: numbers(({ stint }) => rodHours(stint)),
    minutes: numbers(({ stint }) => (rodHours(stint) / stint.rods) * 60),
    start: numbers(({ stint }) => stint.start_at ?? Number.NaN),
    end: numbers(({ stint }) => stint.end_at ?? Number.NaN),
    why_changed: stints.map(({ stint }) => stint.why_changed ?? null),
    late: flags(({ trip }) => trip.recorded === "that night" || trip.recorded === "later"),
    follows: numbers((a) =>
      known((a.stint.counted_follows ?? a.trip.counted_follows) === 1, a.stint.follows ?? 0),
    ),
    strikes: numbers((a) => known(misses(a) && losses(a) && landed(a), a.strikes.length)),
    hook_ups: numbers((a) => known(losses(a) && landed(a), count(a, hooked))),
    landed: numbers((a) => known(landed(a), count(a, ["landed"]))),
    hang_ups: numbers((a) => known(hangUps(a), a.stint.hang_ups ?? 0)),
    strike: {
      stint: Int32Array.from(strikes, ({ stint_id }) => position.get(stint_id) ?? -1),
      fate: strikes.map(({ fate }) => fate),
      species: Int32Array.from(strikes, ({ species_id }) => species.get(species_id ?? "") ?? -1),
      length_mm: Float64Array.from(strikes, ({ length_mm }) => length_mm ?? Number.NaN),
      at: Float64Array.from(strikes, ({ at }) => at ?? Number.NaN),
    },
    factors: Object.fromEntries(needed.map((id) => [id, columnOf(stints, id)])),
  }
}

function rodHours({ effort_minutes, start_at, end_at, break_minutes, rods }: Stint): number {
  const clock = start_at && end_at ? (end_at - start_at) / 60_000 - (break_minutes ?? 0) : Number.NaN
  return ((effort_minutes ?? clock) / 60) * rods
}

function codes(names: readonly string[]): Int32Array {
  const seen = new Map<string, number>()
  return Int32Array.from(names, (name) => {
    const code = seen.get(name) ?? seen.size
    seen.set(name, code)
    return code
  })
}

function columnOf(stints: readonly Around[], id: SampleFactor): FactColumn {
  const valueOf: (around: Around) => Value = factorValue[id]
  const values = stints.map(valueOf)
  const factor = factorOf(id)
  if (factor.kind !== "categorical")
    return { kind: "number", values: Float64Array.from(values, (value) => Number(value ?? Number.NaN)) }
  const levels: string[] = [...(factor.levels ?? [])]
  const found = Int32Array.from(values, (value) => {
    if (value === null || value === undefined) return -1
    if (!levels.includes(String(value))) levels.push(String(value))
    return levels.indexOf(String(value))
  })
  return { kind: "level", codes: found, levels }
}
