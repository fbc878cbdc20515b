import { type Matrix, column } from "../matrix/matrix.ts"

/** Which columns of a design have one value within every cluster, to 1e-9 of their size: they vary between clusters only, and
 *  cost degrees of freedom where clusters are the sample. */
export function clusterLevelColumns(x: Matrix, cluster: Int32Array, clusters: number): number[] {
  const least = new Float64Array(clusters)
  const most = new Float64Array(clusters)
  return Array.from({ length: x.cols }, (_, j) => j).filter((j) => {
    least.fill(Infinity)
    most.fill(-Infinity)
    const values = column(x, j)
    for (let i = 0; i < values.length; i++) {
      const g = cluster[i] ?? 0
      const value = values[i] ?? NaN
      if (value < (least[g] ?? Infinity)) least[g] = value
      if (value > (most[g] ?? -Infinity)) most[g] = value
    }
    return most.every((high, g) => {
      const low = least[g] ?? Infinity
      return high - low <= 1e-9 * Math.max(1, Math.abs(high)) || high < low
    })
  })
}
