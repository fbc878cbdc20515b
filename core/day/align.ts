/**
 * Which things of one list are which of another: first those with the same id, then the longest run in common order of those
 * that are alike, and at last, between two that were found, those left in their order. Gives for each of `b` its place in
 * `a`, or -1.
 */
export function align<T>(
  a: readonly T[],
  b: readonly T[],
  idOf: (thing: T) => string | null,
  keyOf: (thing: T) => string,
  fits: (one: T, other: T) => boolean = () => true,
): number[] {
  const found = b.map(() => -1)
  const taken = new Set<number>()
  const pair = (i: number, j: number): void => {
    found[j] = i
    taken.add(i)
  }
  const byId = new Map(a.map((thing, i) => [idOf(thing), i]))
  for (const [j, thing] of b.entries()) {
    const id = idOf(thing)
    const i = id === null ? undefined : byId.get(id)
    if (i !== undefined && !taken.has(i)) pair(i, j)
  }
  const freeA = a.flatMap((thing, i) => (taken.has(i) ? [] : [{ i, key: keyOf(thing) }]))
  const freeB = b.flatMap((thing, j) => (found[j] === -1 ? [{ j, key: keyOf(thing) }] : []))
  for (const [i, j] of commonRun(freeA, freeB)) pair(i, j)
  pairBetween(a, b, found, taken, fits)
  return found
}

type Left = { readonly key: string }

/** The longest run of alike things in common order, as pairs of places. */
function commonRun(
  a: readonly (Left & { readonly i: number })[],
  b: readonly (Left & { readonly j: number })[],
): [number, number][] {
  const width = b.length + 1
  const length = new Int32Array((a.length + 1) * width)
  for (let x = a.length - 1; x >= 0; x--)
    for (let y = b.length - 1; y >= 0; y--)
      length[x * width + y] =
        a[x]?.key === b[y]?.key
          ? (length[(x + 1) * width + y + 1] ?? 0) + 1
          : Math.max(length[(x + 1) * width + y] ?? 0, length[x * width + y + 1] ?? 0)
  const pairs: [number, number][] = []
  let [x, y] = [0, 0]
  while (x < a.length && y < b.length) {
    const [one, other] = [a[x], b[y]]
    if (one !== undefined && other !== undefined && one.key === other.key) {
      pairs.push([one.i, other.j])
      x++
      y++
    } else if ((length[(x + 1) * width + y] ?? 0) >= (length[x * width + y + 1] ?? 0)) x++
    else y++
  }
  return pairs
}

/** Pairs what is left: those that fit best by order, each between the neighbours already found. */
function pairBetween<T>(
  a: readonly T[],
  b: readonly T[],
  found: number[],
  taken: Set<number>,
  fits: (one: T, other: T) => boolean,
): void {
  let from = 0
  for (const [j, thing] of b.entries()) {
    const at = found[j] ?? -1
    if (at >= 0) {
      from = at + 1
      continue
    }
    const after = found.slice(j + 1).find((place) => place >= from) ?? a.length
    for (let i = from; i < after; i++) {
      const one = a[i]
      if (taken.has(i) || one === undefined || !fits(one, thing)) continue
      found[j] = i
      taken.add(i)
      from = i + 1
      break
    }
  }
}
