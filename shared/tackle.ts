import { z } from "zod"
import { entities, stamps } from "./entities.ts"

const text = z.string().min(1)
const id = z.string()
const count = z.int().nonnegative()
const act = z.string().min(1)

const lure = entities.lure.omit({ ...stamps, lure_class_id: true, name: true, price: true }).shape
const rig = entities.rig.omit({ ...stamps, name: true, sink_seconds: true, sink_depth_m: true }).shape
const retrieve = entities.retrieve.omit(stamps).shape

/** What a presentation is made of, part by part; null is not said. SI units. */
export const TackleParts = z.object({
  lure_class: text.nullable(),
  lure: text.nullable(),
  ...lure,
  ...rig,
  ...retrieve,
})
export type TackleParts = z.infer<typeof TackleParts>
export type TacklePart = keyof TackleParts

const isPart = (key: string): key is TacklePart => key in TackleParts.shape

/** The parts in the order in which they are told: lure, rig, retrieve. */
export const tackleParts: readonly TacklePart[] = Object.keys(TackleParts.shape).filter(isPart)
export const noParts: TackleParts = TackleParts.parse(
  Object.fromEntries(tackleParts.map((part) => [part, null])),
)

/** Some of the parts. */
export const SomeParts = TackleParts.partial()
export type SomeParts = z.infer<typeof SomeParts>

/** Parts with others in their place; what the others do not say stays. */
export const withParts = (parts: TackleParts, others: SomeParts): TackleParts =>
  TackleParts.parse({ ...parts, ...others })

/** Which parts belong to the lure, the rig and the retrieve. */
export const partsOf = {
  lure: ["lure_class", "lure", ...Object.keys(lure)].filter(isPart),
  rig: Object.keys(rig).filter(isPart),
  retrieve: Object.keys(retrieve).filter(isPart),
} as const

/** A stretch of a line: what it is taken for, or what is unclear about it and what it may be. */
export const LineToken = z.object({
  from: count,
  to: count,
  text: z.string(),
  /** What it says, in words; null where it is unclear. */
  said: z.string().nullable(),
  unclear: z.object({ sentence: z.string(), choices: z.array(z.string()) }).nullable(),
})
export type LineToken = z.infer<typeof LineToken>

/** A presentation's line as it is read: nothing is kept by reading it. */
export const PresentationLine = z.object({
  tokens: z.array(LineToken),
  parts: TackleParts,
  /** All of it in words, in the reader's units. */
  words: z.string(),
  /** What it would be called, and its code and mark, until the user says otherwise. */
  name: z.string(),
  code: z.string(),
  mark: z.string().nullable(),
  /** A presentation of exactly these parts that the logbook has. */
  same: z.object({ id, name: z.string() }).nullable(),
})
export type PresentationLine = z.infer<typeof PresentationLine>

const sink = z.object({ id, seconds: z.number().positive(), depth_m: z.number().positive() })

export const PresentationListed = z.object({
  id,
  name: text,
  code: text.nullable(),
  mark: text.nullable(),
  retired_at: z.int().nullable(),
  lure_id: id.nullable(),
  rig_id: id.nullable(),
  retrieve_id: id.nullable(),
  parts: TackleParts,
  /** The parts in words, in the reader's units. */
  words: z.string(),
  stints: count,
  trips: count,
  last: z.string().nullable(),
  /** How long this rig with this lure sank to a depth, as measured. */
  sink: sink.nullable(),
})
export type PresentationListed = z.infer<typeof PresentationListed>

/** The tackle of a logbook. `season`: the year in which lures lost are counted. */
export const Tackle = z.object({
  season: z.int(),
  classes: z.array(z.object({ id, name: text, presentations: count })),
  lures: z.array(
    z.object({
      id,
      name: text.nullable(),
      parts: TackleParts,
      words: z.string(),
      price: z.number().nullable(),
      presentations: count,
      /** Lost this season; null where no stint of the season says. */
      lost: count.nullable(),
    }),
  ),
  rigs: z.array(z.object({ id, name: text.nullable(), words: z.string(), presentations: count })),
  retrieves: z.array(z.object({ id, words: z.string(), presentations: count })),
  presentations: z.array(PresentationListed),
})
export type Tackle = z.infer<typeof Tackle>

const named = { name: text.optional() }

/** A change of one row of the tackle: what is not named stays as it is. */
export const TackleChange = z.discriminatedUnion("what", [
  z.object({ what: z.literal("lure_class"), id, name: text }),
  z.object({
    what: z.literal("lure"),
    id,
    name: text.nullable().optional(),
    price: z.number().nonnegative("A price is not below 0.").nullable().optional(),
  }),
  z.object({ what: z.literal("rig"), id, name: text.nullable() }),
  z.object({
    what: z.literal("presentation"),
    id,
    ...named,
    code: z.string().nullable().optional(),
    mark: z.string().max(1, "A mark is one letter.").nullable().optional(),
    /** Retired: no longer offered, its history kept. */
    retired: z.boolean().optional(),
  }),
  z.object({
    what: z.literal("sink"),
    /** The presentation whose rig and lure were timed; null seconds forgets the measurement. */
    presentation: id,
    seconds: z.number().positive("Seconds of sinking are above 0.").nullable(),
    depth_m: z.number().positive("A depth to sink to is above 0.").nullable(),
  }),
])
export type TackleChange = z.infer<typeof TackleChange>

/** Methods of the tackle page. */
export const tackleMethods = {
  "tackle.list": { input: z.object({}), output: Tackle },
  /** Reads a presentation from a line such as `soft plastic, 1/4 oz, short shank, hop, dark`, or `pt, dark` for pt but dark. */
  "tackle.read": { input: z.object({ line: z.string().max(500) }), output: PresentationLine },
  /** Keeps a presentation read from a line; its name, code and mark are those suggested where they are left out. */
  "tackle.keep": {
    input: z.object({
      line: z.string().max(500),
      ...named,
      code: z.string().nullable().optional(),
      mark: z.string().max(1, "A mark is one letter.").nullable().optional(),
    }),
    output: z.object({ id, act, name: z.string() }),
  },
  "tackle.save": { input: TackleChange, output: z.object({ act: act.nullable() }) },
} as const

/** Seconds to count down to a depth, from a measured sink at an even pace; null without a measurement. */
export const countDown = (
  measured: { readonly seconds: number; readonly depth_m: number } | null,
  depth_m: number,
): number | null => (measured === null ? null : (measured.seconds * depth_m) / measured.depth_m)
