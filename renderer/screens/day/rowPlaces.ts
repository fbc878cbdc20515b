/** Rows in the places they had: those that are new stand behind the one that is before them in `rows`. */
export function inPlaces<T extends object>(
  places: readonly string[],
  rows: readonly T[],
  keyOf: (row: T) => string,
): T[] {
  const byKey = new Map(rows.map((row) => [keyOf(row), row]))
  const placed = places.flatMap((key) => byKey.get(key) ?? [])
  const known = new Set(places)
  for (const [i, row] of rows.entries()) {
    if (known.has(keyOf(row))) continue
    const before = rows[i - 1]
    placed.splice(before === undefined ? 0 : placed.indexOf(before) + 1, 0, row)
  }
  return placed
}
