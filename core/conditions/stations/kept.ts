/** Keeps what was last made for up to `most` keys; the key unused for longest goes first. */
export function kept<K, T extends object>(most: number): (key: K, make: () => T) => T {
  const values = new Map<K, T>()
  let last: { readonly key: K; readonly value: T } | null = null
  return (key, make) => {
    if (last?.key === key) return last.value
    const value = values.get(key) ?? make()
    last = { key, value }
    values.delete(key)
    values.set(key, value)
    const [oldest] = values.keys()
    if (values.size > most && oldest !== undefined) values.delete(oldest)
    return value
  }
}
