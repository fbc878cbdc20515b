import type { RowDraft, SpeciesCounts } from "./draft.ts"

/** A stint as one or several rows of a table tell it: rows that differ only in species and counts are one stint. */
export type StintRows = {
  readonly row: RowDraft
  readonly rows: readonly RowDraft[]
  readonly counts: readonly SpeciesCounts[]
}

export type AlreadyThere = { readonly file: string; readonly line: number; readonly of_line: number | null }
export type Conflict = {
  readonly file: string
  readonly line: number
  readonly with_line: number
  readonly column: string
  readonly values: readonly (number | null)[]
}
export type JoinedRows = {
  readonly stints: readonly StintRows[]
  /** Lines of rows taken as stints of their own although an earlier row differs from them in counts only. */
  readonly alike: readonly number[]
  readonly already_there: readonly AlreadyThere[]
  readonly conflicts: readonly Conflict[]
}

/** What earlier imports that still stand have brought in, by hash. The line is that of the earlier table. */
export type Known = { row(hash: string): number | null; stint(hash: string): number | null }

/**
 * Joins rows into stints. The same row again counts as already there; a row that tells another count for the same
 * species of the same stint is a conflict, left out and shown. Only rows in which nothing tells one outing from another
 * (no trip, stop, angler, spot, note or species: parties met on a shore, say) may agree by chance; they stay stints of
 * their own, and that is said. With `separate` every row is a stint of its own, and
 * only a second import of the table finds its rows already there.
 */
export function joinRows(rows: readonly RowDraft[], known: Known, repeats: "skip" | "separate"): JoinedRows {
  const already_there: AlreadyThere[] = []
  const conflicts: Conflict[] = []
  const alike: number[] = []
  const first = new Map<string, number>()
  const stints = new Map<string, { row: RowDraft; rows: RowDraft[]; counts: SpeciesCounts[] }>()
  for (const row of repeats === "separate" ? numbered(rows) : rows) {
    const place = { file: row.file, line: row.line }
    const earlier = first.get(row.hash)
    if (earlier !== undefined) {
      already_there.push({ ...place, of_line: earlier })
      continue
    }
    first.set(row.hash, row.line)
    if (known.row(row.hash) !== null) {
      already_there.push({ ...place, of_line: null })
      continue
    }
    const imported = known.stint(row.stint_hash)
    if (imported !== null) {
      conflicts.push({ ...place, with_line: imported, ...difference([], row.counts) })
      continue
    }
    const stint = stints.get(row.stint_hash)
    if (stint === undefined) {
      stints.set(row.stint_hash, { row, rows: [row], counts: [...row.counts] })
    } else if (row.counts.every((count) => count.species !== null && !told(stint.counts, count))) {
      stint.rows.push(row)
      stint.counts.push(...row.counts)
    } else if (isUnnamed(row)) {
      stints.set(`${row.stint_hash} line ${row.line}`, { row, rows: [row], counts: [...row.counts] })
      alike.push(row.line)
    } else {
      conflicts.push({ ...place, with_line: stint.row.line, ...difference(stint.counts, row.counts) })
    }
  }
  return { stints: [...stints.values()], alike, already_there, conflicts }
}

/** The same rows with hashes that tell the first, second ... row of the same content apart. */
function* numbered(rows: readonly RowDraft[]): Iterable<RowDraft> {
  const seen = new Map<string, number>()
  for (const row of rows) {
    const times = (seen.get(row.stint_hash) ?? 0) + 1
    seen.set(row.stint_hash, times)
    yield { ...row, hash: `${row.hash} ${times}`, stint_hash: `${row.stint_hash} ${times}` }
  }
}

const isUnnamed = (row: RowDraft): boolean =>
  [row.trip, row.stop, row.angler, row.spot, row.lat, row.notes].every((name) => name === null) &&
  row.counts.every(({ species }) => species === null)

const sameSpecies = (a: SpeciesCounts, b: SpeciesCounts): boolean =>
  a.species?.toLowerCase() === b.species?.toLowerCase()

const told = (counts: readonly SpeciesCounts[], count: SpeciesCounts): boolean =>
  counts.some((other) => other.species === null || sameSpecies(other, count))

function difference(
  was: readonly SpeciesCounts[],
  now: readonly SpeciesCounts[],
): { column: string; values: (number | null)[] } {
  for (const column of ["landed", "hook_ups", "strikes"] as const)
    for (const count of now) {
      const before = was.find((other) => sameSpecies(other, count))
      if (before !== undefined && before[column] !== count[column])
        return { column, values: [before[column], count[column]] }
    }
  return { column: "landed", values: [null, now[0]?.landed ?? null] }
}
