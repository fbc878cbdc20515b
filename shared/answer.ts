import { z } from "zod"
import { estimate } from "./estimate.ts"
import { Patience } from "./patience.ts"
import { bases, outcomes } from "./questions.ts"
import { Steps } from "./steps.ts"

const number = z.number().nullable()

export const leftOutReasons = [
  "trip_not_complete",
  "outcome_not_counted",
  "factor_unknown",
  "effort_unknown",
  "species_unknown",
] as const
export type LeftOutReason = (typeof leftOutReasons)[number]

/** Why a stint was left out, as a clause after its number. */
export const leftOutWords: Record<LeftOutReason, string> = {
  trip_not_complete: "on trips that do not hold all of their effort",
  outcome_not_counted: "in which the outcome was not counted",
  effort_unknown: "without known effort",
  species_unknown: "with a fish of unknown species",
  factor_unknown: "in which what is compared is not known",
}

/** Trips from which a level's spread between days is known well enough for the strongest word; below it, an open dot. */
export const tripsToBeSure = 12

/**
 * The fixed scale from interval and evidence to words, weakest first. The interval is the 95% interval of the ratio of two
 * levels on the basis that leads; q its p-value allowing for all pairs looked at. Nothing stronger is ever said: no cause, no
 * proof, no rank. Limits are ours.
 */
export const scale = [
  {
    word: "Cannot tell",
    when: "a level of the two tells something on fewer than 4 trips, or the interval holds 1, or there is none",
  },
  {
    word: "Looks better, not shown",
    when: "as fished the interval leaves 1 out, but in a fairer comparison it holds 1, or what is compared cannot be told from something else",
  },
  { word: "Little in it", when: "the interval holds 1 and lies within 3/4 to 4/3 (lengths: 10/11 to 11/10)" },
  {
    word: "Leaning, one day carries it",
    when: "the interval leaves 1 out, but without the trip that matters most it holds 1",
  },
  { word: "Leaning", when: "the interval leaves 1 out, but q is above 0.05" },
  { word: "Fair", when: "the interval leaves 1 out and q is at most 0.05" },
  {
    word: "Strong",
    when: "the interval leaves 1 out, q is at most 0.01, and each level has 12 trips or more",
  },
] as const
export type Verdict = (typeof scale)[number]["word"]

const level = z.object({
  level: z.string(),
  trips: z.int(),
  stints: z.int(),
  rod_hours: z.number(),
  events: z.number(),
  trials: number,
  raw: estimate,
  adjusted: estimate.nullable(),
  typical: number,
})
const contrast = z.object({
  a: z.string(),
  b: z.string(),
  basis: z.enum(bases),
  ratio: number,
  low: number,
  high: number,
  p: number,
  q: number,
})

/** How the two levels could be fished from now on, to settle it. */
export const designs = ["same_stop", "same_trip", "as_now"] as const

/** What is told besides the contract's fields, for the pair that leads. */
const besides = {
  /** The pair again on stints that followed a planned change or began a trip; null where no reason for a change was noted. */
  planned: z
    .object({
      /** Reasons noted, and the stints left of those compared. */
      noted: z.int(),
      stints: z.int(),
      of_stints: z.int(),
      /** null, like the ratio, where they are too few. */
      basis: z.enum(bases).nullable(),
      ratio: number,
      low: number,
      high: number,
      sentence: z.string(),
    })
    .nullable(),
  /** What `needed` would be by each design, the fastest first; null where one cannot be told. */
  settle: z
    .object({
      designs: z.array(z.object({ design: z.enum(designs), rod_hours: z.number(), trips: z.number() })),
      sentence: z.string(),
    })
    .nullable(),
  /** Rod-hours (of shares and lengths stints) of the two levels at each level of what is held alike, the biggest mismatch first. */
  overlap: z
    .object({
      a: z.string(),
      b: z.string(),
      rows: z.array(
        z.object({
          factor: z.string(),
          name: z.string(),
          /** null where it is not known. */
          level: z.string().nullable(),
          a: z.number(),
          b: z.number(),
        }),
      ),
    })
    .nullable(),
}

/** The answer to one comparison as programs read it: the command line prints exactly these fields, the
 *  contract's first. */
export const AnswerJson = z.object({
  outcome: z.enum(outcomes),
  by: z.string(),
  unit: z.string(),
  /** The species asked about, several joined by a comma; null for all fish. */
  species: z.string().nullable(),
  refused: z.object({ code: z.string(), text: z.string() }).nullable(),
  data: z.object({
    trips: z.int(),
    stops: z.int(),
    stints: z.int(),
    rod_hours: z.number(),
    events: z.number(),
    trials: number,
    left_out: z.array(z.object({ reason: z.enum(leftOutReasons), stints: z.int() })),
  }),
  levels: z.array(level),
  contrasts: z.array(contrast),
  headline: z.object({ basis: z.enum(bases), why: z.string() }),
  interaction: z.object({ modifier: z.string(), p: number }).nullable(),
  curve: z
    .array(z.object({ x: z.number(), estimate: z.number(), low: z.number(), high: z.number() }))
    .nullable(),
  model: z
    .object({
      family: z.string(),
      link: z.string(),
      terms: z.array(z.string()),
      sd_trip: number,
      theta: number,
      log_likelihood: z.number(),
      method: z.string(),
    })
    .nullable(),
  influence: z.object({ trip: z.string(), change: z.number() }).nullable(),
  needed: z.object({ rod_hours: z.number(), trips: z.number(), ratio: z.number() }).nullable(),
  cautions: z.array(z.object({ code: z.string(), text: z.string() })),
  sentence: z.string(),
  ...besides,
})
export type AnswerJson = z.infer<typeof AnswerJson>

/** The answer as people read it: besides, each interval's method, what a naive one would have claimed, of the most influential
 *  trip its id and the level it moves, and the trip that a caution is about. */
export const Answer = AnswerJson.extend({
  cautions: z.array(
    z.object({
      code: z.string(),
      text: z.string(),
      about: z.object({ trip: z.string(), trip_id: z.string() }).optional(),
    }),
  ),
  levels: z.array(level.extend({ method: z.string(), naive: estimate.nullable() })),
  contrasts: z.array(contrast.extend({ method: z.string() })),
  influence: z
    .object({
      trip: z.string(),
      trip_id: z.string(),
      change: z.number(),
      /** The level it moves as fished; null where it moves the ratio that leads. */
      level: z.string().nullable(),
      /** That ratio without the trip, where it was worth working out. */
      without: z.object({ ratio: number, low: number, high: number }).nullable(),
    })
    .nullable(),
  verdict: z.enum(scale.map(({ word }) => word)).nullable(),
  /** "spoon over jig": what the ratios of the standings are of. */
  ratios_of: z.string().nullable(),
  /** Each basis beside the one that leads, for the pair that leads. */
  standings: z.array(
    z.object({
      basis: z.enum(bases),
      says: z.enum(["leads", "agrees", "differs", "nothing"]),
      text: z.string(),
    }),
  ),
  /** What the adjusted basis held alike and what not; null where it was not asked for. */
  held: z
    .object({
      used: z.array(z.object({ factor: z.string(), name: z.string(), how: z.string() })),
      left_out: z.array(z.object({ factor: z.string(), name: z.string(), why: z.string() })),
      /** Why what a lure does by itself is not held alike. */
      path: z.string().nullable(),
      stints: z.int(),
      of_stints: z.int(),
      /** Part of the effort that lies where every level was fished under the same conditions. */
      overlap: number,
      without_overlap: z.array(z.string()),
      /** Why there is no adjusted answer. */
      cannot: z.string().nullable(),
    })
    .nullable(),
  /** Minutes that each of the two levels was fished without a strike before it was changed. */
  dry: z.array(z.object({ level: z.string(), minutes: z.number(), stints: z.int() })),
  /** What must be read beside a share. */
  beside: z.string().nullable(),
  /** The adjusted answer's model in full, and how to check it. */
  working: z
    .object({
      coefficients: z.array(z.object({ name: z.string(), estimate: z.number(), se: z.number() })),
      trips: z.int(),
      df: z.number(),
      r_code: z.string(),
      /** How it stands to what was counted, trips' good and bad days averaged over; null for lengths. */
      diagnostics: z
        .discriminatedUnion("kind", [
          z.object({
            kind: z.literal("counts"),
            /** Stints with so many events, seen and expected; the last with so many or more. */
            counts: z.array(z.object({ count: z.int(), observed: z.number(), expected: z.number() })),
          }),
          z.object({
            kind: z.literal("shares"),
            /** By rising fitted share: what luck alone would leave lies within `reach` of it in 95 of 100 bins. */
            bins: z.array(
              z.object({
                fitted: z.number(),
                observed: z.number(),
                reach: z.number(),
                trials: z.number(),
              }),
            ),
          }),
        ])
        .nullable(),
    })
    .nullable(),
  /** Weight along the curve's x (rod-hours, trials or fish), in equal bins. */
  density: z.array(z.object({ from: z.number(), to: z.number(), weight: z.number() })).nullable(),
  /** Whether it depends on the modifier asked for: the test, the leading pair at each of its levels, and every cell. */
  depends: z
    .object({
      modifier: z.string(),
      p: number,
      f: number,
      columns: z.int().nullable(),
      df: number,
      how: z.string(),
      /** Why there is no test. */
      why: z.string().nullable(),
      levels: z.array(
        z.object({
          at: z.string(),
          basis: z.enum(bases),
          ratio: number,
          low: number,
          high: number,
          /** Trips of the later level and of the earlier. */
          trips: z.array(z.int()),
          sentence: z.string(),
        }),
      ),
      cells: z.array(
        z.object({
          level: z.string(),
          at: z.string(),
          /** Drawn towards what all cells have in common, for rates. */
          estimate: number,
          raw: number,
          low: number,
          high: number,
          trips: z.int(),
          rod_hours: z.number(),
        }),
      ),
    })
    .nullable(),
})
export type Answer = z.infer<typeof Answer>
export type AnswerLevel = Answer["levels"][number]
export type AnswerContrast = Answer["contrasts"][number]

/** What came of looking through every factor for one outcome. */
/** Up to this false-discovery value a factor stands out of all looked at: one in ten of such may be chance. */
export const mostQ = 0.1

export const LookThrough = z.object({
  outcome: z.enum(outcomes),
  species: z.string().nullable(),
  looked_at: z.int(),
  factors: z.array(
    z.object({
      factor: z.string(),
      kind: z.string(),
      basis: z.enum(bases),
      p: number,
      q: number,
      size: z.object({ ratio: number, low: number, high: number, of: z.string() }).nullable(),
      sentence: z.string(),
    }),
  ),
  cautions: z.array(z.object({ code: z.string(), text: z.string() })),
})
export type LookThrough = z.infer<typeof LookThrough>

/** What comes back from any question. */
export const Told = z.union([Answer, LookThrough, Steps, Patience])
export type Told = z.infer<typeof Told>

export const isLookThrough = (told: Told): told is LookThrough => "looked_at" in told
export const isComparison = (told: Told): told is Answer => "contrasts" in told
