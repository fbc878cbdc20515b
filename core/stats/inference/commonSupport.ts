/** What rows are compared by and along which covariates they must overlap. Groups are numbered from 0. */
export type Support = {
  readonly group: Int32Array
  /** Name of each group, to settle ties. */
  readonly names: readonly string[]
  /** Weight of each row, such as exposure; rows of none do not count. */
  readonly weight: Float64Array
  /** Level numbers of each categorical covariate. */
  readonly categorical: readonly Float64Array[]
  readonly continuous: readonly Float64Array[]
}

export type CommonSupport = {
  /** Rows that stand where every group kept has weight. */
  readonly kept: Uint8Array
  readonly groups: readonly number[]
  /** Groups left out so that the others overlap, in the order they were. */
  readonly leftOut: readonly number[]
  /** Share of all weight that the kept rows hold. */
  readonly share: number
}

/** Rows at which all groups could have been: for each categorical covariate a level at which every group has weight, for each
 *  continuous one a value within the range of every group. While they hold less than half of the weight and more than two
 *  groups are left, the group is left out without which they hold most (ties: least weight, then name). The rule is ours. */
export function commonSupport(support: Support): CommonSupport {
  const { weight, names, group } = support
  const total = weight.reduce((sum, w) => sum + w, 0)
  const weightOf = (kept: Uint8Array): number =>
    weight.reduce((sum, w, i) => sum + (kept[i] === 1 ? w : 0), 0)
  const own = new Float64Array(names.length)
  weight.forEach((w, i) => {
    own[group[i] ?? 0] = (own[group[i] ?? 0] ?? 0) + w
  })
  let groups = names.map((_, g) => g).filter((g) => (own[g] ?? 0) > 0)
  const leftOut: number[] = []
  let kept = overlap(support, groups)
  while (weightOf(kept) < total / 2 && groups.length > 2) {
    const without = groups
      .map((left) => ({
        left,
        held: weightOf(
          overlap(
            support,
            groups.filter((g) => g !== left),
          ),
        ),
      }))
      .toSorted(
        (a, b) =>
          b.held - a.held ||
          (own[a.left] ?? 0) - (own[b.left] ?? 0) ||
          (names[a.left] ?? "").localeCompare(names[b.left] ?? ""),
      )
    const dropped = without[0]?.left ?? 0
    leftOut.push(dropped)
    groups = groups.filter((g) => g !== dropped)
    kept = overlap(support, groups)
  }
  return Object.freeze({ kept, groups, leftOut, share: total > 0 ? weightOf(kept) / total : 0 })
}

function overlap({ group, weight, categorical, continuous }: Support, groups: readonly number[]): Uint8Array {
  const compared = new Set(groups)
  const counts = Uint8Array.from(weight, (w, i) => (w > 0 && compared.has(group[i] ?? -1) ? 1 : 0))
  const kept = counts.slice()
  for (const levels of categorical) {
    const seen = new Map<number, Set<number>>()
    levels.forEach((level, i) => {
      if (counts[i] === 1) seen.set(level, (seen.get(level) ?? new Set()).add(group[i] ?? 0))
    })
    levels.forEach((level, i) => {
      if (seen.get(level)?.size !== compared.size) kept[i] = 0
    })
  }
  for (const values of continuous) {
    let [low, high] = [-Infinity, Infinity]
    for (const g of groups) {
      let [least, most] = [Infinity, -Infinity]
      values.forEach((value, i) => {
        if (counts[i] !== 1 || group[i] !== g) return
        least = Math.min(least, value)
        most = Math.max(most, value)
      })
      low = Math.max(low, least)
      high = Math.min(high, most)
    }
    values.forEach((value, i) => {
      if (!(value >= low && value <= high)) kept[i] = 0
    })
  }
  return kept
}
