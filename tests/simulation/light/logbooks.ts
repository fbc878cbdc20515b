import { stream } from "../../../core/stats/random.ts"
import type { StintRecord } from "../../unit/questions/factsOf.ts"
import { NOTHING_DIFFERS } from "../recovery/kinds.ts"
import { drawWorld } from "../recovery/world.ts"

const LOGBOOKS = 60
const SEED = 20_260_501

/** Logbooks of the kind that is looked through (recovery/lookingThrough.ts), in which first light gives 1.5 times as much. */
export function lightLogbooks(): StintRecord[][] {
  const random = stream(SEED, "light")
  return Array.from({ length: LOGBOOKS }, () => drawWorld(random, NOTHING_DIFFERS))
}
