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

/** What R's model reads of a stint. */
const columns = [
  "light",
  "water_temp_c",
  "tide_phase_rad",
  "angler",
  "spot",
  "order_in_stop",
  "pause_s",
] as const

/** The logbooks as the table that light.R reads. */
export function lightTable(logbooks: readonly (readonly StintRecord[])[]): string {
  const lines = logbooks.flatMap((stints, logbook) =>
    stints.map(({ trip, hours, fish, factors }) =>
      [logbook, trip, hours, fish, ...columns.map((column) => factors?.[column])].join(","),
    ),
  )
  return `${[["logbook", "trip", "hours", "fish", ...columns].join(","), ...lines].join("\n")}\n`
}
