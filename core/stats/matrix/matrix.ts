/** A matrix of doubles, stored by columns: element (i, j) is data[i + rows * j]. All matrices here are stored so. */
export type Matrix = { readonly rows: number; readonly cols: number; readonly data: Float64Array }

export function zeros(rows: number, cols: number): Matrix {
  return { rows, cols, data: new Float64Array(rows * cols) }
}

/** A matrix from its columns, all of `rows` values. */
export function fromColumns(columns: readonly Float64Array[], rows: number): Matrix {
  const matrix = zeros(rows, columns.length)
  columns.forEach((values, j) => {
    if (values.length !== rows) {
      throw new RangeError(`Column ${j} has ${values.length} values; the matrix has ${rows} rows.`)
    }
    matrix.data.set(values, j * rows)
  })
  return matrix
}

/** Column j, as a view into the matrix. */
export function column({ rows, data }: Matrix, j: number): Float64Array {
  return data.subarray(j * rows, (j + 1) * rows)
}

/** The matrix of these columns only. */
export function selectColumns(matrix: Matrix, columns: readonly number[]): Matrix {
  return fromColumns(
    columns.map((j) => column(matrix, j)),
    matrix.rows,
  )
}

/** The matrix of these rows only. */
export function selectRows(matrix: Matrix, rows: Int32Array): Matrix {
  const chosen = zeros(rows.length, matrix.cols)
  for (let j = 0; j < matrix.cols; j++) {
    const from = column(matrix, j)
    const to = column(chosen, j)
    for (let i = 0; i < rows.length; i++) to[i] = from[rows[i] ?? 0] ?? 0
  }
  return chosen
}

/** Writes X b into `out`, which has a value a row. */
export function multiply(x: Matrix, b: Float64Array, out: Float64Array): void {
  out.fill(0)
  for (let j = 0; j < x.cols; j++) {
    const factor = b[j] ?? 0
    if (factor === 0) continue
    const from = j * x.rows
    for (let i = 0; i < x.rows; i++) out[i] = (out[i] ?? 0) + factor * (x.data[from + i] ?? 0)
  }
}

/** Writes X'r into `out`, which has a value a column. */
export function multiplyTransposed(x: Matrix, r: Float64Array, out: Float64Array): void {
  for (let j = 0; j < x.cols; j++) {
    const from = j * x.rows
    let sum = 0
    for (let i = 0; i < x.rows; i++) sum += (x.data[from + i] ?? 0) * (r[i] ?? 0)
    out[j] = sum
  }
}

/** Rows taken at a time where columns are met in pairs, so that they stay in the processor's cache. */
const BLOCK = 1024

/** Writes X'WX, W diagonal, into `out`, which is square with a row a column of X. */
export function weightedGram(x: Matrix, w: Float64Array, out: Matrix): void {
  const { rows, cols, data } = x
  const gram = out.data
  gram.fill(0)
  const weighted = new Float64Array(Math.min(BLOCK, rows))
  for (let begin = 0; begin < rows; begin += BLOCK) {
    const count = Math.min(BLOCK, rows - begin)
    for (let j = 0; j < cols; j++) {
      const a = j * rows + begin
      for (let i = 0; i < count; i++) weighted[i] = (w[begin + i] ?? 0) * (data[a + i] ?? 0)
      // two columns at a time: the sums do not wait for each other
      let k = 0
      for (; k < j; k += 2) {
        const b = k * rows + begin
        const c = b + rows
        let [first, second] = [0, 0]
        for (let i = 0; i < count; i++) {
          const value = weighted[i] ?? 0
          first += value * (data[b + i] ?? 0)
          second += value * (data[c + i] ?? 0)
        }
        gram[k + cols * j] = (gram[k + cols * j] ?? 0) + first
        gram[k + 1 + cols * j] = (gram[k + 1 + cols * j] ?? 0) + second
      }
      if (k === j) {
        let own = 0
        for (let i = 0; i < count; i++) own += (weighted[i] ?? 0) * (data[a + i] ?? 0)
        gram[j + cols * j] = (gram[j + cols * j] ?? 0) + own
      }
    }
  }
  mirrorUpper(out)
}

/** Copies the upper triangle of a square matrix to the lower. */
export function mirrorUpper({ cols, data }: Matrix): void {
  for (let j = 0; j < cols; j++) for (let k = 0; k < j; k++) data[j + cols * k] = data[k + cols * j] ?? 0
}

/** a'Ma for a square M. */
export function quadraticForm(a: Float64Array, m: Matrix): number {
  let sum = 0
  for (let j = 0; j < m.cols; j++) {
    let inner = 0
    for (let i = 0; i < m.rows; i++) inner += (m.data[i + m.rows * j] ?? 0) * (a[i] ?? 0)
    sum += inner * (a[j] ?? 0)
  }
  return sum
}

/** The first `size` rows and columns of a square matrix. */
export function selectBlock(m: Matrix, size: number): Matrix {
  const block = zeros(size, size)
  for (let j = 0; j < size; j++)
    for (let i = 0; i < size; i++) block.data[i + size * j] = m.data[i + m.rows * j] ?? 0
  return block
}

export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0)
  return sum
}
