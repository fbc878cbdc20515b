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
export function multiply({ rows, cols, data }: Matrix, b: Float64Array, out: Float64Array): void {
  out.fill(0)
  let j = 0
  // four columns at a time: a row of out is read and written once for all
  for (; j + 3 < cols; j += 4) {
    const [first, second, third, fourth] = [b[j] ?? 0, b[j + 1] ?? 0, b[j + 2] ?? 0, b[j + 3] ?? 0]
    const from = j * rows
    for (let i = 0; i < rows; i++) {
      const at = from + i
      const left = first * (data[at] ?? 0) + second * (data[at + rows] ?? 0)
      const right = third * (data[at + 2 * rows] ?? 0) + fourth * (data[at + 3 * rows] ?? 0)
      out[i] = (out[i] ?? 0) + (left + right)
    }
  }
  for (; j < cols; j++) {
    const factor = b[j] ?? 0
    if (factor === 0) continue
    const from = j * rows
    for (let i = 0; i < rows; i++) out[i] = (out[i] ?? 0) + factor * (data[from + i] ?? 0)
  }
}

/** Writes X'r into `out`, which has a value a column. */
export function multiplyTransposed({ rows, cols, data }: Matrix, r: Float64Array, out: Float64Array): void {
  let j = 0
  // four columns at a time: the sums do not wait for each other
  for (; j + 3 < cols; j += 4) {
    let [first, second, third, fourth] = [0, 0, 0, 0]
    const from = j * rows
    for (let i = 0; i < rows; i++) {
      const at = from + i
      const value = r[i] ?? 0
      first += value * (data[at] ?? 0)
      second += value * (data[at + rows] ?? 0)
      third += value * (data[at + 2 * rows] ?? 0)
      fourth += value * (data[at + 3 * rows] ?? 0)
    }
    out[j] = first
    out[j + 1] = second
    out[j + 2] = third
    out[j + 3] = fourth
  }
  for (; j < cols; j++) {
    const from = j * rows
    let sum = 0
    for (let i = 0; i < rows; i++) sum += (data[from + i] ?? 0) * (r[i] ?? 0)
    out[j] = sum
  }
}

/** Rows taken at a time where columns are met in pairs, so that they stay in the processor's cache. */
const BLOCK = 1024

/** Writes X'WX, W diagonal, into `out`, which is square with a row a column of X. Two columns meet two at a time: every value that
 *  is read serves two sums. */
export function weightedGram({ rows, cols, data }: Matrix, w: Float64Array, out: Matrix): void {
  const gram = out.data
  gram.fill(0)
  const add = (k: number, j: number, sum: number): void => {
    gram[k + cols * j] = (gram[k + cols * j] ?? 0) + sum
  }
  const [left, right] = [new Float64Array(Math.min(BLOCK, rows)), new Float64Array(Math.min(BLOCK, rows))]
  for (let begin = 0; begin < rows; begin += BLOCK) {
    const count = Math.min(BLOCK, rows - begin)
    for (let j = 0; j < cols; j += 2) {
      const a = j * rows + begin
      // a last column without a partner stands for both
      const paired = j + 1 < cols
      const b = paired ? a + rows : a
      let own = 0
      let between = 0
      let others = 0
      for (let i = 0; i < count; i++) {
        const weight = w[begin + i] ?? 0
        const x = data[a + i] ?? 0
        const y = data[b + i] ?? 0
        left[i] = weight * x
        right[i] = weight * y
        own += weight * x * x
        between += weight * x * y
        others += weight * y * y
      }
      add(j, j, own)
      if (paired) {
        add(j, j + 1, between)
        add(j + 1, j + 1, others)
      }
      for (let k = 0; k < j; k += 2) {
        const c = k * rows + begin
        const d = c + rows
        let ac = 0
        let ad = 0
        let bc = 0
        let bd = 0
        for (let i = 0; i < count; i++) {
          const x = left[i] ?? 0
          const y = right[i] ?? 0
          const u = data[c + i] ?? 0
          const v = data[d + i] ?? 0
          ac += x * u
          ad += x * v
          bc += y * u
          bd += y * v
        }
        add(k, j, ac)
        add(k + 1, j, ad)
        if (paired) {
          add(k, j + 1, bc)
          add(k + 1, j + 1, bd)
        }
      }
    }
  }
  mirrorUpper(out)
}

/** Adds X'WX of the rows `from` to `to` - 1 to the square block of `out` that begins at `base`: its lower triangle. For a few rows
 *  at a time; of many `weightedGram` is faster. */
export function addGram(
  { rows, cols, data }: Matrix,
  w: Float64Array,
  from: number,
  to: number,
  out: Float64Array,
  base: number,
): void {
  for (let j = 0; j < cols; j++)
    for (let k = 0; k <= j; k++) {
      let sum = 0
      for (let i = from; i < to; i++)
        sum += (w[i] ?? 0) * (data[i + rows * j] ?? 0) * (data[i + rows * k] ?? 0)
      const at = base + j + cols * k
      out[at] = (out[at] ?? 0) + sum
    }
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
