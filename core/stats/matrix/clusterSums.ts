import { type Matrix, zeros } from "./matrix.ts"

/** Each cluster's sum of its rows of x, row i taken w[i] times: a row a cluster, a column a column of x. Cluster g has rows
 *  start[g] to start[g + 1] - 1. */
export function clusterSums(x: Matrix, w: Float64Array, start: Int32Array): Matrix {
  const sums = zeros(start.length - 1, x.cols)
  for (let j = 0; j < x.cols; j++) {
    const from = j * x.rows
    for (let g = 0; g < sums.rows; g++) {
      const end = start[g + 1] ?? 0
      let sum = 0
      for (let i = start[g] ?? 0; i < end; i++) sum += (w[i] ?? 0) * (x.data[from + i] ?? 0)
      sums.data[g + sums.rows * j] = sum
    }
  }
  return sums
}
