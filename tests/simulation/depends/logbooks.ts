import { stream } from "../../../core/stats/random.ts"
import type { StintRecord } from "../../unit/questions/factsOf.ts"
import { PAUSES_LENGTHEN } from "../recovery/kinds.ts"
import { drawWorld } from "../recovery/world.ts"

const LOGBOOKS = 60
const SEED = 20_261_128

/** Logbooks in which longer pauses pay in cold water, and cost in warm. */
export function pauseLogbooks(): StintRecord[][] {
  const random = stream(SEED, "pauses")
  return Array.from({ length: LOGBOOKS }, () => drawWorld(random, PAUSES_LENGTHEN))
}
