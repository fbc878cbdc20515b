import type { FactorId } from "../../shared/factors.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import type { Estimator, LevelEstimate } from "./estimate.ts"
import type { NameOf } from "../../shared/figures.ts"
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
  readonly headline: Pair | null
  /** The units in which sentences and cautions are written. */
  readonly reader: ReaderUnits
  readonly nameOf: NameOf
}

/** The trip whose removal changes some level's estimate by the largest factor, and which level that is. */
export type Influence = {
  readonly trip: string
  readonly trip_id: string
  readonly change: number
  readonly level: string
}
