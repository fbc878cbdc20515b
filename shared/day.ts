import { z } from "zod"
import { entities, stamps } from "./entities.ts"

const id = z.string()
/** A row's id; null where the draft does not know which stored row it is, or it is new. */
const ownId = id.nullable()

/** A strike of a stint's: a landed fish, or one that was missed or lost. */
export const DayStrike = entities.strike
  .omit({ ...stamps, stint_id: true, ordinal: true })
  .extend({ id: ownId })
export type DayStrike = z.infer<typeof DayStrike>

/** One visit to one spot; `spot_id` is null where no place was named. */
export const DayStop = entities.stop.omit({ ...stamps, trip_id: true, ordinal: true }).extend({ id: ownId })
export type DayStop = z.infer<typeof DayStop>

/** A stint in the order in which it was written down; `stop` counts from 0 in the day's stops. */
export const DayStint = entities.stint
  .omit({ ...stamps, stop_id: true, ordinal: true })
  .extend({ id: ownId, stop: z.int().nonnegative(), strikes: z.array(DayStrike) })
export type DayStint = z.infer<typeof DayStint>

/**
 * A reading by a person or his instrument, of a stint alone, of a stop, or of the waters around (neither). What a station's
 * file or a table brought is no part of the draft and stays as it is.
 */
export const DayReading = entities.observation
  .omit({ ...stamps, trip_id: true, stop_id: true, stint_id: true, water_level_m: true })
  .extend({ id: ownId, stop: z.int().nonnegative().nullable(), stint: z.int().nonnegative().nullable() })
export type DayReading = z.infer<typeof DayReading>

/**
 * What could not be read yet, kept as it was typed: a cell of the stint `stint` (`place` is its column), or a line of the
 * tape (`place` is "tape") that stands before the stint `position`.
 */
export const DayUnread = z.object({
  id: ownId,
  stint: z.int().nonnegative().nullable(),
  place: z.string().min(1),
  position: z.int().nonnegative(),
  text: z.string().min(1),
})
export type DayUnread = z.infer<typeof DayUnread>

/** A trip's own part: date and zone, who, what for, what was counted. The first angler is who a line without a lane is of. */
export const DayHead = entities.trip.omit({ ...stamps, grouping: true }).extend({ anglers: z.array(id) })
export type DayHead = z.infer<typeof DayHead>

/**
 * One draft of a day: what the tape parses to, the grid edits and the store is reconciled with. SI units, UTC milliseconds;
 * null is unknown. Things are named by their ids.
 */
export const Day = z.object({
  head: DayHead,
  stops: z.array(DayStop),
  stints: z.array(DayStint),
  readings: z.array(DayReading),
  unread: z.array(DayUnread),
})
export type Day = z.infer<typeof Day>

/** Where a token cannot be read: its place in the line or cell, the sentence, and what could stand there instead. */
export const Unclear = z.object({
  from: z.int().nonnegative(),
  to: z.int().nonnegative(),
  sentence: z.string(),
  choices: z.array(z.string()),
})
export type Unclear = z.infer<typeof Unclear>

/** A line of a tape, read. `said` is its reading in words, as far as it is clear; empty for an empty line. */
export const TapeLine = z.object({
  text: z.string(),
  said: z.string(),
  unclear: Unclear.nullable(),
})
export type TapeLine = z.infer<typeof TapeLine>

/** What could stand at the caret: each choice replaces `from` to `to` of the whole text. */
export const Completions = z.object({
  from: z.int().nonnegative(),
  to: z.int().nonnegative(),
  choices: z.array(z.object({ text: z.string(), said: z.string() })),
})
export type Completions = z.infer<typeof Completions>

/** A day in figures, null where not known or not counted. */
export const DayTotals = z.object({
  stints: z.int(),
  rod_hours: z.number().nullable(),
  landed: z.int().nullable(),
  strikes: z.int().nullable(),
})
export type DayTotals = z.infer<typeof DayTotals>

const TapeReading = z.object({
  lines: z.array(TapeLine),
  completions: Completions.nullable(),
  totals: DayTotals,
})

/** A stored day with its tape. Pass `tape` back as `was` when saving: what changed elsewhere meanwhile is then seen. */
export const DayRead = z.object({ day: Day, tape: z.string(), totals: DayTotals })
export type DayRead = z.infer<typeof DayRead>

/** A save: `act` undoes it, `said` names it; both null where nothing had to change. */
export const DaySaved = DayRead.extend({
  act: z.string().nullable(),
  said: z.string().nullable(),
  /** Sentences about what was changed elsewhere meanwhile and was kept beside one's own. */
  merged: z.array(z.string()),
})
export type DaySaved = z.infer<typeof DaySaved>

const date = z.iso.date()

export const dayMethods = {
  "day.read": { input: z.object({ trip: id }), output: DayRead },
  /**
   * Saves a whole tape. `was` is the tape from which it was typed. Refuses with "changed_since", keeping everything as it
   * stands, where the same stint was changed here and elsewhere. Lines that cannot be read are kept as typed.
   */
  "day.save": {
    input: z.object({ trip: id, was: z.string(), text: z.string() }),
    output: DaySaved,
  },
  /** A whole day as a new trip, the spot where it begins and the anglers by code or name. Refuses a tape that is not clear. */
  "day.log": {
    input: z.object({
      date,
      place: z.string().min(1).nullable().default(null),
      anglers: z.array(z.string().min(1)).default([]),
      text: z.string().max(100_000),
    }),
    output: z.object({
      trip: id,
      act: z.string(),
      said: z.string(),
      lines: z.array(TapeLine),
      totals: DayTotals,
    }),
  },
  /** Reads a tape without saving it: of a trip, or of a day that is no trip yet. Never refuses a text. */
  "tape.read": {
    input: z.object({
      trip: id.nullable().default(null),
      date: date.nullable().default(null),
      /** The spot where such a day begins, by id. */
      spot: id.nullable().default(null),
      anglers: z.array(id).default([]),
      text: z.string().max(100_000),
      caret: z.int().nonnegative().nullable().default(null),
    }),
    output: TapeReading,
  },
} as const
