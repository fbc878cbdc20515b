import type { Database } from "better-sqlite3"
import { z } from "zod"
import { entities } from "../../shared/entities.ts"
import { factorOf, type FactorId } from "../../shared/factors.ts"
import {
  changeReasons,
  fates,
  type ChangeReason,
  type Fate,
  type LengthType,
} from "../../shared/vocabulary.ts"
import type { FactColumn, Facts, StrikeFacts } from "../facts.ts"

const fixed = [
  "stint_id",
  "stop_id",
  "trip_id",
  "coalesce(trip_label, trip_date)",
  "completeness = 'complete'",
  "same_stop_id IS NOT NULL",
  "effort_source IN ('clocked', 'ticked') OR start_at IS NOT NULL",
  "grouping = 'row'",
  "target_species_id",
  "rod_hours",
  "strikes",
  "hook_ups",
  "landed",
  "hang_ups",
  "rod_hours / rods * 60",
  "start_at",
  "end_at",
  "why_changed",
  "recorded IN ('that night', 'later')",
  "follows",
] as const

/** The stints of closed trips, in the order in which facts hold them. */
const inOrder =
  "FROM stint_fact WHERE status = 'closed' ORDER BY trip_date, trip_id, stop_ordinal, stint_ordinal, stint_id"

/**
 * Reads more factors of the stints that `readFacts` reads, in its order. A stint is one row, so that DISTINCT takes none away: it
 * lets SQLite leave out what is joined for other columns, half of the work.
 */
export function readFactors(db: Database, needed: readonly FactorId[]): Facts["factors"] {
  const rows = db
    .prepare(`SELECT DISTINCT ${["stint_id", ...needed].join(", ")} ${inOrder}`)
    .raw()
    .all()
  const columns = needed.map((id) => ({ id, writer: writerFor(id, rows.length) }))
  for (const [i, row] of rows.entries()) {
    const cells = cellsOf(row)
    for (const [j, { writer }] of columns.entries()) writer.write(i, cells[1 + j])
  }
  return Object.fromEntries(columns.map(({ id, writer }) => [id, writer.column()]))
}

/**
 * Reads the stints of all closed trips as columns, with the named factors only. `version` is passed through. The order
 * is that of trips, stops and stints in time.
 */
export function readFacts(db: Database, needed: readonly FactorId[], version: number): Facts {
  const species = new Coder()
  const speciesNames: string[] = []
  const lengths: (LengthType | null)[] = []
  for (const { id, name, length_type } of Named.parse(
    db.prepare("SELECT id, name, length_type FROM species WHERE deleted_at IS NULL ORDER BY name").all(),
  )) {
    species.code(id)
    speciesNames.push(name)
    lengths.push(length_type)
  }
  const rows = db
    .prepare(`SELECT ${[...fixed, ...needed].join(", ")} ${inOrder}`)
    .raw()
    .all()
  const n = rows.length
  const stints = new Coder()
  const stops = new Coder()
  const trips = new Coder()
  const tripLabels: string[] = []
  const tripIds: string[] = []
  const facts = {
    trip: new Int32Array(n),
    stop: new Int32Array(n),
    same_stop: new Uint8Array(n),
    complete: new Uint8Array(n),
    clocked: new Uint8Array(n),
    row_is_trip: new Uint8Array(n),
    target: new Int32Array(n),
    rod_hours: new Float64Array(n),
    strikes: new Float64Array(n),
    hook_ups: new Float64Array(n),
    landed: new Float64Array(n),
    hang_ups: new Float64Array(n),
    minutes: new Float64Array(n),
    start: new Float64Array(n),
    end: new Float64Array(n),
    late: new Uint8Array(n),
    follows: new Float64Array(n),
  }
  const whyChanged: (ChangeReason | null)[] = []
  const columns = needed.map((id) => ({ id, writer: writerFor(id, n) }))
  for (const [i, row] of rows.entries()) {
    const cells = cellsOf(row)
    stints.code(text(cells[0]))
    facts.stop[i] = stops.code(text(cells[1]))
    const trip = trips.code(text(cells[2]))
    facts.trip[i] = trip
    if (trip === tripLabels.length) {
      tripLabels.push(text(cells[3]))
      tripIds.push(text(cells[2]))
    }
    facts.complete[i] = Number(cells[4])
    facts.same_stop[i] = Number(cells[5])
    facts.clocked[i] = Number(cells[6])
    facts.row_is_trip[i] = Number(cells[7])
    facts.target[i] = typeof cells[8] === "string" ? species.code(cells[8]) : -1
    facts.rod_hours[i] = number(cells[9])
    facts.strikes[i] = number(cells[10])
    facts.hook_ups[i] = number(cells[11])
    facts.landed[i] = number(cells[12])
    facts.hang_ups[i] = number(cells[13])
    facts.minutes[i] = number(cells[14])
    facts.start[i] = number(cells[15])
    facts.end[i] = number(cells[16])
    whyChanged.push(changeReasons.find((reason) => reason === cells[17]) ?? null)
    facts.late[i] = Number(cells[18] ?? 0)
    facts.follows[i] = number(cells[19])
    for (const [j, { writer }] of columns.entries()) writer.write(i, cells[fixed.length + j])
  }
  return {
    version,
    stints: n,
    trips: tripLabels,
    trip_ids: tripIds,
    species: speciesNames,
    length_types: lengths,
    ...facts,
    why_changed: whyChanged,
    strike: readStrikes(db, stints, species),
    factors: Object.fromEntries(columns.map(({ id, writer }) => [id, writer.column()])),
  }
}

const Named = z.array(entities.species.pick({ id: true, name: true, length_type: true }))
type Cell = string | number | null | undefined

/** Raw rows of text and numbers come from SQLite as arrays; nothing else is selected here. */
const isCells = (row: unknown): row is readonly Cell[] => Array.isArray(row)
const cellsOf = (row: unknown): readonly Cell[] => (isCells(row) ? row : [])

const number = (cell: Cell): number => (typeof cell === "number" ? cell : Number.NaN)
const text = (cell: Cell): string => String(cell ?? "")

/** Numbers names in the order in which they are first met. */
class Coder {
  readonly #codes = new Map<string, number>()

  code(name: string): number {
    const known = this.#codes.get(name)
    if (known !== undefined) return known
    this.#codes.set(name, this.#codes.size)
    return this.#codes.size - 1
  }

  find(name: string): number {
    return this.#codes.get(name) ?? -1
  }

  names(): string[] {
    return [...this.#codes.keys()]
  }
}

type Writer = { write(i: number, cell: Cell): void; column(): FactColumn }

function writerFor(id: FactorId, n: number): Writer {
  const factor = factorOf(id)
  if (factor.kind !== "categorical") {
    const values = new Float64Array(n)
    return {
      write: (i, cell) => void (values[i] = number(cell)),
      column: () => ({ kind: "number", values }),
    }
  }
  const codes = new Int32Array(n)
  const levels = new Coder()
  for (const level of factor.levels ?? []) levels.code(level)
  return {
    write: (i, cell) => void (codes[i] = cell === null || cell === undefined ? -1 : levels.code(text(cell))),
    column: () => ({ kind: "level", codes, levels: levels.names() }),
  }
}

const isFate = (word: Cell): word is Fate => fates.some((fate) => fate === word)

function readStrikes(db: Database, stints: Coder, species: Coder): StrikeFacts {
  const rows = db.prepare("SELECT stint_id, fate, species_id, length_mm, at FROM strike_fact").raw().all()
  const stint: number[] = []
  const fate: Fate[] = []
  const kind: number[] = []
  const length: number[] = []
  const time: number[] = []
  for (const row of rows) {
    const cells = cellsOf(row)
    const at = stints.find(text(cells[0]))
    if (at < 0 || !isFate(cells[1])) continue
    stint.push(at)
    fate.push(cells[1])
    kind.push(typeof cells[2] === "string" ? species.find(cells[2]) : -1)
    length.push(number(cells[3]))
    time.push(number(cells[4]))
  }
  return {
    stint: Int32Array.from(stint),
    fate,
    species: Int32Array.from(kind),
    length_mm: Float64Array.from(length),
    at: Float64Array.from(time),
  }
}
