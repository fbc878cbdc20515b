import type { TopLevelSpec } from "vega-lite"

/** A picture in two parts. */
export type Parted = {
  /** What is drawn, but for its content: the specification as text, with names where the content stood. */
  readonly shape: string
  readonly data: readonly Named[]
  readonly params: readonly { readonly name: string; readonly value: unknown }[]
}
type Named = { readonly name: string; readonly values: readonly unknown[] }

/**
 * Parts a picture into its shape, which is dear to make ready to draw, and its content: the values it was given in place
 * (`data: { values }`, the same array once) and its parameters. Pictures of one shape differ in content alone.
 */
export function parted(spec: TopLevelSpec): Parted {
  const names = new Map<readonly unknown[], string>()
  const params: { name: string; value: unknown }[] = []
  const shape = JSON.stringify(spec, (key, part: unknown) => {
    if (key === "data" && isInPlace(part)) {
      const name = names.get(part.values) ?? `values_${names.size}`
      names.set(part.values, name)
      return { name }
    }
    if (key === "params" && isParams(part)) {
      params.push(...part)
      return part.map(({ name }) => ({ name }))
    }
    return part
  })
  return { shape, data: [...names].map(([values, name]) => ({ name, values })), params }
}

const isInPlace = (part: unknown): part is { readonly values: readonly unknown[] } =>
  typeof part === "object" && part !== null && "values" in part && Array.isArray(part.values)

const isParams = (part: unknown): part is { readonly name: string; readonly value: unknown }[] =>
  Array.isArray(part) &&
  part.every((one: unknown) => typeof one === "object" && one !== null && "name" in one)
