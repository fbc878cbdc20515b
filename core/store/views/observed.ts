import type { Database } from "better-sqlite3"
import { observationSources } from "../../../shared/vocabulary.ts"
import { carried, carryRules, type Carried, type CarryRule, type Reading } from "../../conditions/carry.ts"

/**
 * The columns of `stint_fact` for every observed factor and its source, as SQL. Each asks the aggregate made by
 * `registerCarrying`, over the live readings of the trip. What an import said of one stint never tells of another: a
 * table's empty cell stays unknown. A reading a person entered for another stint counts at its own time, else at that
 * stint's start, and one without a stop counts as taken at the stop visited just then.
 */
export const observedColumns = (): string =>
  carryRules
    .flatMap(({ id, rule }) => [
      `${carriedSql(id, id, rule)} AS ${id},`,
      `${carriedSql(`${id}_source`, id, rule)} AS ${id}_source,`,
    ])
    .join("\n  ")

/** Readings beyond the window would not count; leaving them out here saves most of the calls. */
const carriedSql = (what: string, column: string, { window }: CarryRule): string =>
  `(SELECT carried_${what}(
      reading.${column}, reading.source, reading.taken_at, reading.stint_id IS stint.id,
      CASE
        WHEN reading.place_id IS NOT NULL THEN reading.place_id = stop.id
        WHEN reading.source <> 'imported' AND reading.taken_at BETWEEN stop.start_at AND stop.end_at THEN 1
      END,
      reading.created_at, stint.start_at, stint.end_at
    )
    FROM reading
    WHERE reading.${column} IS NOT NULL AND (
      reading.stint_id = stint.id
      OR reading.trip_id = trip.id AND (reading.stint_id IS NULL OR reading.source <> 'imported')
        AND reading.at BETWEEN stint.start_at - ${window * 60_000}
          AND coalesce(stint.end_at, stint.start_at) + ${window * 60_000}
      OR reading.trip_id = trip.id AND (reading.stint_id IS NULL OR reading.source <> 'imported')
        AND reading.at IS NULL
    ))`

type Cell = string | number | null
/** How many arguments each call brings, in the order above. */
const each = 8

/**
 * Makes `carried_<factor>` and `carried_<factor>_source` known to a connection: aggregates over readings that give a
 * stint's value of the factor and its source by the rules of `conditions/carry.ts`. Must come before the views.
 */
export function registerCarrying(db: Database): void {
  for (const { id, rule } of carryRules)
    for (const [name, part] of [
      [`carried_${id}`, "value"],
      [`carried_${id}_source`, "source"],
    ] as const)
      db.aggregate<Cell[]>(name, {
        start: () => [],
        step: (cells, next: Cell, ...more: Cell[]) => {
          cells.push(next, ...more)
        },
        result: (cells) => fromCells(cells, rule)?.[part] ?? null,
        varargs: true,
        deterministic: true,
        directOnly: false,
      })
}

/** Reads the arguments of all calls, one after the other; the last two of each are the stint's own start and end. */
function fromCells(cells: readonly Cell[], rule: CarryRule): Carried | null {
  const readings: Reading[] = []
  for (let i = 0; i < cells.length; i += each) {
    const [value = null, source, at = null, own, same_stop = null, entered_at] = cells.slice(i, i + each - 2)
    if (value === null) continue
    readings.push({
      value,
      source: observationSources.find((word) => word === source) ?? "imported",
      at: instant(at),
      own: own === 1,
      same_stop: same_stop === null ? null : same_stop === 1,
      entered_at: Number(entered_at),
    })
  }
  const [start = null, end = null] = cells.slice(each - 2, each)
  return carried(readings, { start: instant(start), end: instant(end) }, rule)
}

const instant = (cell: Cell): number | null => (typeof cell === "number" ? cell : null)
