import type { StintRecord } from "../unit/questions/factsOf.ts"

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

/** Logbooks of made-up worlds as the table that R reads. */
export function worldTable(logbooks: readonly (readonly StintRecord[])[]): string {
  const lines = logbooks.flatMap((stints, logbook) =>
    stints.map(({ trip, hours, fish, factors }) =>
      [logbook, trip, hours, fish, ...columns.map((column) => factors?.[column])].join(","),
    ),
  )
  return `${[["logbook", "trip", "hours", "fish", ...columns].join(","), ...lines].join("\n")}\n`
}
