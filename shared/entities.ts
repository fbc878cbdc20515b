import { z } from "zod"
import * as word from "./vocabulary.ts"

const text = z.string().min(1)
const flag = z.union([z.literal(0), z.literal(1)])
const instant = z.int()
const id = z.uuidv7()
const positive = z.number().positive()
const notNegative = z.number().nonnegative()
const count = z.int().nonnegative()

const base = {
  id,
  created_at: instant,
  updated_at: instant,
  deleted_at: instant.nullable(),
}
const entity = <S extends z.ZodRawShape>(shape: S) => z.object({ ...base, ...shape })

const observed = {
  water_temp_c: z.number().min(-3).max(45).nullable(),
  visibility: z.enum(word.visibilities).nullable(),
  water_colour: text.nullable(),
  secchi_cm: notNegative.nullable(),
  salinity_psu: z.number().min(0).max(45).nullable(),
  water_depth_m: notNegative.nullable(),
  water_movement: z.enum(word.waterMovements).nullable(),
  bank_water: text.nullable(),
  wind_speed_ms: z.number().min(0).max(100).nullable(),
  wind_dir_deg: z.number().min(0).max(360).nullable(),
  cloud_okta: z.number().min(0).max(9).nullable(),
  barometer_hpa: z.number().min(850).max(1100).nullable(),
  barometer_3h_hpa: z.number().min(-50).max(50).nullable(),
  bait_seen: text.nullable(),
}
const computedConditions = {
  tide_stage: z.enum(word.tideStages).nullable(),
  tide_part: z.enum(word.tideParts).nullable(),
  tide_phase_rad: z.number().nullable(),
  tide_height_m: z.number().nullable(),
  tide_rate_m_h: z.number().nullable(),
  tide_range_m: notNegative.nullable(),
  tide_spring_neap: notNegative.nullable(),
  current_stage: z.enum(word.currentStages).nullable(),
  current_speed_ms: notNegative.nullable(),
  light: z.enum(word.lights).nullable(),
  sun_altitude_deg: z.number().min(-90).max(90).nullable(),
  moon_illum: z.number().min(0).max(1).nullable(),
  moon_phase_rad: z.number().nullable(),
  hour_local: z.number().min(0).lt(24).nullable(),
}
const cadence = {
  actions_per_cycle: positive.nullable(),
  pause_s: notNegative.nullable(),
  pace: z.enum(word.paces).nullable(),
  rhythm: z.enum(word.rhythms).nullable(),
  line: z.enum(word.lines).nullable(),
  water_column: z.enum(word.waterColumns).nullable(),
}

/**
 * One row of every table a user's record is made of, column for column (a test compares them with the tables).
 * SI units; instants in UTC milliseconds; null is unknown, never zero.
 */
export const entities = {
  angler: entity({ name: text, code: text.nullable(), notes: text.nullable() }),
  spot: entity({
    name: text,
    code: text.nullable(),
    lat: z.number().min(-90).max(90).nullable(),
    lon: z.number().min(-180).max(180).nullable(),
    zone: text.nullable(),
    ground: text.nullable(),
    structure: text.nullable(),
    usual_depth_m: notNegative.nullable(),
    tide_station: text.nullable(),
    current_station: text.nullable(),
    lag_high_min: z.number().nullable(),
    lag_low_min: z.number().nullable(),
    slack_after_high_min: z.number().nullable(),
    slack_after_low_min: z.number().nullable(),
    slack_source: text.nullable(),
    notes: text.nullable(),
  }),
  species: entity({
    name: text,
    code: text.nullable(),
    length_type: z.enum(word.lengthTypes).nullable(),
    own_min_length_mm: positive.nullable(),
    own_max_length_mm: positive.nullable(),
    own_bag: count.nullable(),
    limit_source: text.nullable(),
    limit_date: text.nullable(),
    scientific_name: text.nullable(),
  }),
  lure_class: entity({ name: text, code: text.nullable() }),
  lure: entity({
    lure_class_id: id.nullable(),
    name: text.nullable(),
    profile: text.nullable(),
    lure_length_mm: positive.nullable(),
    colour: z.enum(word.colours).nullable(),
    scented: z.enum(word.yesNo).nullable(),
    lure_sound: text.nullable(),
    imitates: text.nullable(),
    price: notNegative.nullable(),
  }),
  rig: entity({
    name: text.nullable(),
    head_weight_g: notNegative.nullable(),
    hook_shank: z.enum(word.hookShanks).nullable(),
    hook_style: z.enum(word.hookStyles).nullable(),
    cork_shape: text.nullable(),
    cork_sound: text.nullable(),
    cork_drop_mm: positive.nullable(),
    leader_length_mm: positive.nullable(),
    leader_strength_n: positive.nullable(),
    bait: z.enum(word.baits).nullable(),
    sink: z.enum(word.sinks).nullable(),
    sink_seconds: positive.nullable(),
    sink_depth_m: positive.nullable(),
  }),
  /** Seconds that a rig with a lure took to sink to a depth, as measured. */
  sink: entity({ rig_id: id.nullable(), lure_id: id.nullable(), seconds: positive, depth_m: positive }),
  retrieve: entity({ retrieve_style: text.nullable(), ...cadence }),
  presentation: entity({
    name: text,
    code: text.nullable(),
    mark: z.string().length(1).nullable(),
    lure_id: id.nullable(),
    rig_id: id.nullable(),
    retrieve_id: id.nullable(),
    retired_at: instant.nullable(),
  }),
  trip: entity({
    label: text.nullable(),
    date: z.iso.date(),
    zone: text,
    start_at: instant.nullable(),
    end_at: instant.nullable(),
    target_species_id: id.nullable(),
    purpose: z.enum(word.purposes).nullable(),
    completeness: z.enum(word.completenesses),
    counted_misses: flag,
    counted_losses: flag,
    counted_follows: flag,
    counted_hang_ups: flag,
    counted_landed: flag,
    recorded: z.enum(word.recordings).nullable(),
    status: z.enum(word.tripStatuses),
    grouping: z.enum(word.tripGroupings),
    notes: text.nullable(),
  }),
  trip_angler: entity({ trip_id: id, angler_id: id }),
  stop: entity({
    trip_id: id,
    ordinal: count,
    label: text.nullable(),
    spot_id: id.nullable(),
    start_at: instant.nullable(),
    end_at: instant.nullable(),
    platform: z.enum(word.platforms).nullable(),
    ground: text.nullable(),
    structure: text.nullable(),
    why_left: text.nullable(),
  }),
  stint: entity({
    stop_id: id,
    ordinal: count,
    presentation_id: id.nullable(),
    angler_id: id.nullable(),
    start_at: instant.nullable(),
    end_at: instant.nullable(),
    effort_minutes: positive.nullable(),
    break_minutes: notNegative.nullable(),
    effort_source: z.enum(word.effortSources).nullable(),
    share_group: text.nullable(),
    rods: z.int().positive(),
    sight: z.enum(word.sights).nullable(),
    fished_depth_m: notNegative.nullable(),
    ...cadence,
    bait: z.enum(word.baits).nullable(),
    counted_misses: flag.nullable(),
    counted_losses: flag.nullable(),
    counted_follows: flag.nullable(),
    counted_hang_ups: flag.nullable(),
    counted_landed: flag.nullable(),
    follows: count.nullable(),
    hang_ups: count.nullable(),
    lures_lost: count.nullable(),
    why_changed: z.enum(word.changeReasons).nullable(),
    notes: text.nullable(),
    /** Whether the start is known only about. */
    start_about: flag.nullable(),
  }),
  strike: entity({
    stint_id: id,
    ordinal: count,
    fate: z.enum(word.fates),
    species_id: id.nullable(),
    at: instant.nullable(),
    took_on: z.enum(word.tookOn).nullable(),
    length_mm: positive.nullable(),
    weight_g: positive.nullable(),
    kept: flag.nullable(),
    hooked_where: text.nullable(),
  }),
  observation: entity({
    trip_id: id,
    stop_id: id.nullable(),
    stint_id: id.nullable(),
    at: instant.nullable(),
    source: z.enum(word.observationSources),
    ...observed,
    other_boats: count.nullable(),
    /** Measured height of the water above the datum of the station's file. */
    water_level_m: z.number().nullable(),
  }),
  computed: entity({
    stint_id: id,
    method: text,
    basis: text.nullable(),
    tide_station: text.nullable(),
    current_station: text.nullable(),
    ...computedConditions,
  }),
  own_station: entity({
    name: text,
    kind: z.enum(word.stationKinds),
    lat: z.number().min(-90).max(90),
    lon: z.number().min(-180).max(180),
    definition: text,
    source: text.nullable(),
  }),
  question: entity({ name: text, ask: text, note: text.nullable() }),
  answer: entity({ question_id: id, told_at: instant, changes: count, method: text, answer: text }),
  import_batch: entity({
    files: text,
    settings: text,
    rows_read: count,
    stints_added: count,
    readings_added: count,
    taken_back_at: instant.nullable(),
    tracks_added: count,
  }),
  /** Where the boat went, thinned; `points` is JSON of shared/tracks.ts. */
  track: entity({
    name: text.nullable(),
    start_at: instant.nullable(),
    end_at: instant.nullable(),
    length_m: notNegative,
    points: text,
  }),
  setting: entity({ key: text, value: text }),
  /** What could not be read yet of a day, as it was typed. */
  unread: entity({
    trip_id: id,
    stint_id: id.nullable(),
    place: text,
    position: count,
    text,
  }),
} as const

export type Entity = keyof typeof entities
export type Row<E extends Entity> = z.infer<(typeof entities)[E]>
/** The columns that the store itself keeps, for zod's omit. */
export const stamps = { id: true, created_at: true, updated_at: true, deleted_at: true } as const

type Kept = keyof typeof stamps
type Unknowable<R> = { [K in keyof R]: null extends R[K] ? K : never }[keyof R]
/** A row to be made: without the columns that the store itself keeps; what may be unknown may be left out. */
export type Draft<E extends Entity> = Omit<Row<E>, Kept | Unknowable<Row<E>>> & {
  [K in Exclude<Unknowable<Row<E>>, Kept>]?: Row<E>[K] | undefined
}

export const isEntity = (name: string): name is Entity => name in entities

/** A table's columns in stored order. */
export const columnsOf = (name: Entity): string[] => Object.keys(entities[name].shape)
