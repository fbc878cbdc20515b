import type { CallContext } from "../../shared/api.ts"
import { entities, stamps } from "../../shared/entities.ts"
import { factorsAt, type FactorId } from "../../shared/factors.ts"
import type { ImportSettings } from "../../shared/imports.ts"
import { nameAct } from "../store/nameAct.ts"
import { add, put, type OpenChange } from "../store/put.ts"
import { rememberRow } from "../store/read/imports.ts"
import { importer, type Importer } from "./named.ts"
import type { ImportPlan, PlannedStint, PlannedStop, PlannedTrip } from "./plan.ts"

/** Rows stored between two looks at the world: often enough that cancelling feels immediate. */
const slice = 500

/**
 * Stores a planned import inside the caller's transaction and returns its batch. Gives way to other work now and then;
 * throws the signal's reason when cancelled, after which the caller rolls back.
 */
export async function commitImport(
  change: OpenChange,
  plan: ImportPlan,
  settings: ImportSettings,
  watch: CallContext,
): Promise<string> {
  const { report } = plan
  put(change, "import_batch", {
    id: change.batch,
    created_at: change.at,
    updated_at: change.at,
    deleted_at: null,
    files: report.files.join(", "),
    settings: JSON.stringify(settings),
    rows_read: report.records,
    stints_added: report.creates.stints,
    readings_added: report.readings.adds,
    taken_back_at: null,
    tracks_added: report.tracks.adds,
  })
  nameAct(change, `import of ${report.files.join(", ")}`)
  const named = importer(change, plan.places)
  const remember = rememberRow(change.db, change.batch)
  const total = report.creates.stints + plan.readings.length + plan.tracks.length
  let done = 0
  let next = slice
  const giveWay = async (): Promise<void> => {
    next = done + slice
    watch.progress(done, total)
    await new Promise<void>((resolve) => setImmediate(resolve))
    watch.signal.throwIfAborted()
  }
  for (const trip of plan.trips) {
    done += storeTrip({ change, named }, trip)
    for (const stop of trip.stops)
      for (const stint of stop.stints) for (const row of stint.rows) remember(row)
    if (done >= next) await giveWay()
  }
  for (const { trip_id, at, values } of plan.readings) {
    add(change, "observation", { trip_id, at, source: "imported", ...values })
    if (++done >= next) await giveWay()
  }
  for (const { name, start_at, end_at, length_m, points } of plan.tracks) {
    add(change, "track", { name, start_at, end_at, length_m, points: JSON.stringify(points) })
    if (++done >= next) await giveWay()
  }
  watch.progress(total, total)
  return change.batch
}

/** Where rows go: the change they belong to, the ids of what they name, and the trip they are part of. */
type Store = { readonly change: OpenChange; readonly named: Importer }
type TripStore = Store & { readonly trip: PlannedTrip; readonly tripId: string }

function storeTrip(store: Store, trip: PlannedTrip): number {
  const { change, named } = store
  const flag = (counted: boolean) => (counted ? 1 : 0)
  const id = add(change, "trip", {
    label: trip.label,
    date: trip.date,
    zone: trip.zone,
    start_at: trip.start_at,
    end_at: trip.end_at,
    target_species_id: trip.target === null ? null : named.species(trip.target),
    completeness: trip.completeness,
    counted_misses: flag(trip.counted.misses),
    counted_losses: flag(trip.counted.losses),
    counted_follows: flag(trip.counted.follows),
    counted_hang_ups: flag(trip.counted.hang_ups),
    counted_landed: flag(trip.counted.landed),
    recorded: "later",
    status: "closed",
    grouping: trip.grouping,
  })
  for (const angler of trip.anglers)
    add(change, "trip_angler", { trip_id: id, angler_id: named.angler(angler) })
  let ordinal = 0
  for (const [i, stop] of trip.stops.entries()) {
    const stopId = storeStop({ ...store, trip, tripId: id }, stop, i)
    for (const stint of stop.stints) storeStint({ ...store, trip, tripId: id }, stopId, stint, ordinal++)
  }
  return ordinal
}

function storeStop({ change, named, tripId }: TripStore, stop: PlannedStop, ordinal: number): string {
  const rows = stop.stints.map(({ row }) => row)
  const starts = rows.flatMap((row) => row.start_at ?? [])
  const ends = rows.flatMap((row) => row.end_at ?? [])
  const first = stop.stints[0]
  return add(change, "stop", {
    trip_id: tripId,
    ordinal,
    label: stop.label,
    spot_id: stop.spot === null ? null : named.spot(stop.spot),
    start_at: starts.length > 0 ? Math.min(...starts) : null,
    end_at: starts.length > 0 && ends.length > 0 ? Math.max(...ends) : null,
    ...(first === undefined ? {} : groundOf(first)),
  })
}

const Ground = entities.stop.pick({ platform: true, ground: true, structure: true }).partial()
const groundOf = (stint: PlannedStint) => Ground.parse(valuesOf(stint, ["platform", "ground", "structure"]))

const stintParts = [...factorsAt("cadence"), "sight", "fished_depth_m"] as const satisfies readonly FactorId[]
const StintParts = entities.stint.pick({
  bait: true,
  actions_per_cycle: true,
  pause_s: true,
  pace: true,
  rhythm: true,
  line: true,
  water_column: true,
  sight: true,
  fished_depth_m: true,
})

/** What the row says of cadence and the like, where it differs from what the presentation stands for. */
function stintValues(stint: PlannedStint) {
  const inherited = stint.presentation?.cadence
  return StintParts.parse(
    Object.fromEntries(
      stintParts.map((id) => {
        const value = stint.factors.get(id) ?? null
        return [id, value === inherited?.get(id) ? null : value]
      }),
    ),
  )
}

function storeStint(store: TripStore, stopId: string, stint: PlannedStint, ordinal: number): void {
  const { change, named, trip } = store
  const { row, counted } = stint
  const exception = (flag: keyof typeof counted) => (counted[flag] === trip.counted[flag] ? null : 1)
  const id = add(change, "stint", {
    stop_id: stopId,
    ordinal,
    presentation_id: stint.presentation === null ? null : named.presentation(stint.presentation),
    angler_id: row.angler === null ? null : named.angler(row.angler),
    start_at: row.start_at,
    end_at: row.end_at,
    effort_minutes: row.effort_minutes,
    effort_source: row.effort_source,
    rods: row.rods,
    ...stintValues(stint),
    counted_misses: exception("misses"),
    counted_losses: exception("losses"),
    counted_follows: exception("follows"),
    counted_hang_ups: exception("hang_ups"),
    counted_landed: exception("landed"),
    follows: row.follows,
    hang_ups: row.hang_ups,
    lures_lost: row.lures_lost,
    notes: row.notes,
  })
  storeConditions(store, stopId, id, stint)
  for (const [i, strike] of stint.strikes.entries())
    add(change, "strike", {
      stint_id: id,
      ordinal: i,
      fate: strike.fate,
      species_id: strike.species === null ? null : named.species(strike.species),
      at: strike.at,
      took_on: strike.took_on,
      length_mm: strike.length_mm,
      weight_g: strike.weight_g,
      kept: strike.kept,
    })
}

const observedIds = factorsAt("observation")
const computedIds = factorsAt("computed")

function storeConditions(
  { change, tripId }: TripStore,
  stopId: string,
  stintId: string,
  stint: PlannedStint,
): void {
  const seen = valuesOf(stint, observedIds)
  if (Object.keys(seen).length > 0)
    add(change, "observation", {
      trip_id: tripId,
      stop_id: stopId,
      stint_id: stintId,
      at: stint.row.start_at,
      source: "imported",
      ...Observed.parse(seen),
    })
  const imported = valuesOf(stint, computedIds)
  if (Object.keys(imported).length > 0)
    add(change, "computed", { stint_id: stintId, method: "imported", ...Computed.parse(imported) })
}

/** The measured and the computed columns; what every row of these tables must say is given beside them. */
const Observed = entities.observation.omit({ ...stamps, trip_id: true, source: true }).partial()
const Computed = entities.computed.omit({ ...stamps, stint_id: true, method: true }).partial()

function valuesOf(stint: PlannedStint, ids: readonly FactorId[]): Record<string, number | string> {
  return Object.fromEntries(
    ids.flatMap((id) => {
      const value = stint.factors.get(id)
      return value === undefined ? [] : [[id, value] as const]
    }),
  )
}
