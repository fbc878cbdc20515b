import type { FactorId } from "../../shared/factors.ts"
import type { Verdict } from "../../shared/answer.ts"
import type { NameOf } from "../../shared/figures.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import type { Bases, Told } from "./bases/basesOf.ts"
import type { DryMinutes } from "./bases/dryMinutes.ts"
import type { Part } from "./bases/explained.ts"
import type { Lead } from "./bases/lead.ts"
import type { WithoutTrip } from "./bases/withoutTrip.ts"
import type { Estimator, LevelEstimate } from "./estimate.ts"
import type { Gathered } from "./gather.ts"
import type { Pair } from "./pairs.ts"
import type { Prepared } from "./prepare.ts"
import type { Selection } from "./select.ts"

/** A comparison worked out, from which the answer, its sentence and its cautions are written. */
export type Compared = {
  readonly prepared: Prepared
  readonly by: FactorId
  readonly selection: Selection
  readonly gathered: Gathered
  readonly estimator: Estimator
  readonly estimates: readonly LevelEstimate[]
  readonly pairs: readonly Pair[]
  readonly bases: Bases
  /** What the answer leads with; null with one level. */
  readonly headline: Headline | null
  /** The units in which sentences and cautions are written. */
  readonly reader: ReaderUnits
  readonly nameOf: NameOf
}

/** The pair of levels that an answer leads with, on the basis that leads. */
export type Headline = {
  readonly pair: Pair
  readonly lead: Lead
  readonly told: Told
  /** What each level was given before it was changed; null where too little was dry. */
  readonly dry: readonly [DryMinutes | null, DryMinutes | null]
  /** What the difference as fished is made of, by the model; empty without one. */
  readonly explained: readonly Part[]
  readonly without: WithoutTrip | null
  /** What cannot be told from what is compared, in words; empty where all can. */
  readonly confounded: readonly FactorId[]
  readonly verdict: Verdict
}

/** The trip whose removal changes an estimate by the largest factor. */
export type Influence = {
  readonly trip: string
  readonly trip_id: string
  readonly change: number
  /** The level it moves; null where it moves the ratio that the answer leads with. */
  readonly level: string | null
  readonly without: { ratio: number | null; low: number | null; high: number | null } | null
}
export type LevelInfluence = Influence & { readonly level: string }
