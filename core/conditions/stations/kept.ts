/** Keeps what was last made for up to `most` keys; the key unused for longest goes first. */
export function kept<T extends object>(most: number): (key: string, make: () => T) => T {
  const values = new Map<string, T>()
  return (key, make) => {
    const value = values.get(key) ?? make()
    values.delete(key)
    values.set(key, value)
    const [oldest] = values.keys()
    if (values.size > most && oldest !== undefined) values.delete(oldest)
    return value
  }
}
