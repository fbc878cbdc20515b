import { z } from "zod"
import { DayHead, Unclear } from "./day.ts"

const id = z.string()
const act = z.string()

/** A new trip in one line, read: "yesterday 620 md nel tob rd". */
export const TripLine = z.object({
  date: z.iso.date(),
  zone: z.string(),
  start_at: z.int().nullable(),
  spot: id.nullable(),
  anglers: z.array(id),
  target: id.nullable(),
  /** What is understood, in words; the zone too, where nothing but a default says it. */
  said: z.string(),
  unclear: Unclear.nullable(),
})
export type TripLine = z.infer<typeof TripLine>

/** What to change of a trip's head: what is not named stays as it is. */
export const HeadChange = DayHead.partial()
export type HeadChange = z.infer<typeof HeadChange>

export const Season = z.object({
  year: z.int(),
  trips: z.int(),
  /** How many trips of that year were not logged; null where nobody said. */
  unlogged: z.int().nullable(),
  /** Whether it is time to ask, once: the year is over and neither a number nor a refusal was given. */
  ask: z.boolean(),
})
export type Season = z.infer<typeof Season>

const Found = z.object({
  /** Latest first. */
  trips: z.array(id),
  /** How the words were read: "topwater walker, night or first light, the trip without a fish". */
  said: z.string(),
})

export const tripActMethods = {
  "trips.read_line": { input: z.object({ line: z.string().max(1000) }), output: TripLine },
  /** `act: null`: nothing was made, as a trip of that day stood empty. */
  "trips.open": {
    input: z.object({ line: z.string().max(1000) }),
    output: z.object({ trip: id, act: act.nullable(), said: z.string() }),
  },
  "trips.head": { input: z.object({ trip: id }), output: DayHead },
  /** `was`, where given, is what was seen of the same fields: if they stand otherwise by now, "changed_since" is refused. */
  "trips.save": {
    input: z.object({ trip: id, changes: HeadChange, was: HeadChange.optional() }),
    output: z.object({ head: DayHead, act: act.nullable() }),
  },
  "trips.remove": { input: z.object({ trip: id }), output: z.object({ act, said: z.string() }) },
  /** Free words and conditions in one text: "topwater before sunrise, blank". */
  "trips.find": { input: z.object({ text: z.string().max(1000) }), output: Found },
  "seasons.list": { input: z.object({}), output: z.array(Season) },
  /** `unlogged: null` is "I do not know", and is not asked again. */
  "seasons.save": {
    input: z.object({ year: z.int(), unlogged: z.int().nonnegative().nullable() }),
    output: z.object({ act: act.nullable() }),
  },
} as const
