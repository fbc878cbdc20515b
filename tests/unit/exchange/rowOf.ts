import type { RowDraft } from "../../../core/exchange/draft.ts"
import type { StintRows } from "../../../core/exchange/stints.ts"

let lines = 1

/** A row as reading a table gives it, with everything a test does not care about left unknown. */
export function rowOf(said: Partial<RowDraft>): RowDraft {
  const line = said.line ?? ++lines
  return {
    file: "stints.csv",
    line,
    hash: `row ${line}`,
    stint_hash: `stint ${line}`,
    trip: null,
    stop: null,
    stint: String(line),
    date: "2024-05-11",
    zone: "America/New_York",
    start_at: null,
    end_at: null,
    effort_minutes: 30,
    effort_source: "given",
    rods: 1,
    completeness: "complete",
    angler: null,
    spot: null,
    lat: null,
    lon: null,
    station: null,
    target: null,
    counts: [{ species: null, strikes: null, hook_ups: null, landed: 0 }],
    follows: null,
    hang_ups: null,
    lures_lost: null,
    notes: null,
    factors: new Map(),
    ...said,
  }
}

export const stintOf = (said: Partial<RowDraft>): StintRows => {
  const row = rowOf(said)
  return { row, rows: [row], counts: row.counts }
}

/** An instant on the morning of the test's day, from a clock such as 640. */
export const at = (clock: number): number => Date.UTC(2024, 4, 11, Math.floor(clock / 100) + 4, clock % 100)
