/** The values at these positions, in this order; NaN where there is none. */
export function valuesAt(values: ArrayLike<number>, at: ArrayLike<number>): Float64Array {
  // one kind of list each, so that the loop is compiled for it
  const from = values instanceof Float64Array ? values : new Float64Array(values)
  const positions = at instanceof Int32Array ? at : new Int32Array(at)
  const picked = new Float64Array(positions.length)
  for (let i = 0; i < picked.length; i++) picked[i] = from[positions[i] ?? -1] ?? Number.NaN
  return picked
}

/** The whole numbers at these positions, in this order; -1 where there is none. */
export function numbersAt(values: ArrayLike<number>, at: ArrayLike<number>): Int32Array {
  const picked = new Int32Array(at.length)
  for (let i = 0; i < at.length; i++) picked[i] = values[at[i] ?? -1] ?? -1
  return picked
}

/** The positions from 0 to `count` - 1 that pass, rising. */
export function positionsWhere(count: number, passes: (position: number) => boolean): Int32Array {
  const found = new Int32Array(count)
  let length = 0
  for (let i = 0; i < count; i++) if (passes(i)) found[length++] = i
  return found.slice(0, length)
}
