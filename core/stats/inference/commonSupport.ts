import { numbered, type Numbered } from "../numbered.ts"
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
  const categories = support.categorical.map((levels) => numbered(levels))
  const total = weight.reduce((sum, w) => sum + w, 0)
  const weightOf = (kept: Uint8Array): number => {
    let sum = 0
    for (let i = 0; i < kept.length; i++) if (kept[i] === 1) sum += weight[i] ?? 0
    return sum
  }
  const own = new Float64Array(names.length)
  weight.forEach((w, i) => {
    own[group[i] ?? 0] = (own[group[i] ?? 0] ?? 0) + w
  })
  let groups = names.map((_, g) => g).filter((g) => (own[g] ?? 0) > 0)
  const leftOut: number[] = []
  let kept = overlap(support, categories, groups)
  while (weightOf(kept) < total / 2 && groups.length > 2) {
    const without = groups
      .map((left) => {
        const others = groups.filter((g) => g !== left)
        return { left, held: weightOf(overlap(support, categories, others)) }
      })
      .toSorted(
        (a, b) =>
          b.held - a.held ||
          (own[a.left] ?? 0) - (own[b.left] ?? 0) ||
          (names[a.left] ?? "").localeCompare(names[b.left] ?? ""),
      )
    const dropped = without[0]?.left ?? 0
    leftOut.push(dropped)
    groups = groups.filter((g) => g !== dropped)
    kept = overlap(support, categories, groups)
  }
  return Object.freeze({ kept, groups, leftOut, share: total > 0 ? weightOf(kept) / total : 0 })
}

function overlap(
  { group, names, weight, continuous }: Support,
  categories: readonly Numbered[],
  groups: readonly number[],
): Uint8Array {
  const compared = new Uint8Array(names.length)
  for (const g of groups) compared[g] = 1
  const counts = new Uint8Array(weight.length)
  for (let i = 0; i < counts.length; i++)
    counts[i] = (weight[i] ?? 0) > 0 && compared[group[i] ?? -1] === 1 ? 1 : 0
  const kept = counts.slice()
  for (const { numbers: at, count } of categories) {
    const seen = new Uint8Array(count * names.length)
    const groupsAt = new Int32Array(count)
    for (let i = 0; i < at.length; i++) {
      const cell = (at[i] ?? 0) * names.length + (group[i] ?? 0)
      if (counts[i] !== 1 || seen[cell] === 1) continue
      seen[cell] = 1
      groupsAt[at[i] ?? 0] = (groupsAt[at[i] ?? 0] ?? 0) + 1
    }
    for (let i = 0; i < at.length; i++) if (groupsAt[at[i] ?? 0] !== groups.length) kept[i] = 0
  }
  for (const values of continuous) {
    const least = new Float64Array(names.length).fill(Infinity)
    const most = new Float64Array(names.length).fill(-Infinity)
    for (let i = 0; i < values.length; i++) {
      const g = group[i] ?? 0
      if (counts[i] !== 1) continue
      const value = values[i] ?? NaN
      least[g] = Math.min(least[g] ?? Infinity, value)
      most[g] = Math.max(most[g] ?? -Infinity, value)
    }
    const low = Math.max(...groups.map((g) => least[g] ?? Infinity))
    const high = Math.min(...groups.map((g) => most[g] ?? -Infinity))
    for (let i = 0; i < values.length; i++) {
      const value = values[i] ?? NaN
      if (!(value >= low && value <= high)) kept[i] = 0
    }
  }
  return kept
}
