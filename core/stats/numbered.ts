/** Values as whole numbers from 0 in the order in which they first appear. */
export type Numbered = {
  readonly numbers: Int32Array
  /** How many differ. */
  readonly count: number
  /** The values, by their numbers. */
  readonly keys: readonly number[]
}

/** Numbers what `keyOf` says of each value; the values themselves without it. NaN is one value. */
export function numbered(
  values: Int32Array | Float64Array,
  keyOf: (value: number) => number = (value) => value,
): Numbered {
  const seen = new Map<number, number>()
  const numbers = new Int32Array(values.length)
  for (let i = 0; i < numbers.length; i++) {
    const key = keyOf(values[i] ?? Number.NaN)
    const known = seen.get(key) ?? seen.size
    if (known === seen.size) seen.set(key, known)
    numbers[i] = known
  }
  return { numbers, count: seen.size, keys: [...seen.keys()] }
}
