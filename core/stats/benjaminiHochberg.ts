/** Benjamini-Hochberg q-values of p-values, in their order. A missing p-value (null or NaN) stays missing, null, and does
 *  not count among the tests. Source: Benjamini & Hochberg (1995) Journal of the Royal Statistical Society B 57:289-300. */
export function benjaminiHochberg(p: readonly (number | null)[]): (number | null)[] {
  const known = p.flatMap((value, index) => (value === null || Number.isNaN(value) ? [] : [{ value, index }]))
  const wrong = known.find(({ value }) => value < 0 || value > 1)
  if (wrong !== undefined)
    throw new RangeError(`A p-value must lie from 0 to 1; it was given ${wrong.value}.`)
  known.sort((a, b) => b.value - a.value)
  const q: (number | null)[] = p.map(() => null)
  let smallest = 1
  known.forEach(({ value, index }, above) => {
    smallest = Math.min(smallest, (value * known.length) / (known.length - above))
    q[index] = smallest
  })
  return q
}
