import { type Knots, splineColumns } from "./naturalSpline.ts"

/** A covariate's part of a design: what it is made of and how it is coded, remembered so that other rows can be coded alike.
 *  Covariates are named; those with levels hold level numbers from 0, NaN where unknown. */
export type Block =
  | { readonly kind: "numeric"; readonly covariate: string }
  /** Treatment coding: a column for each level but the reference. */
  | {
      readonly kind: "categorical"
      readonly covariate: string
      readonly levels: readonly string[]
      readonly reference: number
    }
  /** Levels in order, taken as evenly spaced: orthogonal polynomials up to `degree`. */
  | {
      readonly kind: "ordered"
      readonly covariate: string
      readonly levels: readonly string[]
      readonly degree: number
    }
  | { readonly kind: "spline"; readonly covariate: string; readonly knots: Knots }
  /** An angle in radians: its cosine and sine. */
  | { readonly kind: "cyclic"; readonly covariate: string }
  /** Every product of a column of one with a column of the other. */
  | { readonly kind: "interaction"; readonly of: readonly [Block, Block] }

/** Rows' covariates by name, all of `rows` values. */
export type Covariates = { readonly rows: number; readonly values: ReadonlyMap<string, Float64Array> }

export function blockName(block: Block): string {
  return block.kind === "interaction" ? block.of.map(blockName).join(" x ") : block.covariate
}

/** A block's columns and their names. Throws a RangeError where a covariate is missing, a value unknown or no level. */
export function codeBlock(
  block: Block,
  covariates: Covariates,
): { names: string[]; columns: Float64Array[] } {
  switch (block.kind) {
    case "numeric":
      return { names: [block.covariate], columns: [valuesOf(covariates, block.covariate)] }
    case "categorical": {
      const codes = codesOf(covariates, block.covariate, block.levels.length)
      const coded = block.levels.flatMap((level, code) => (code === block.reference ? [] : [{ level, code }]))
      return {
        names: coded.map(({ level }) => `${block.covariate} ${level}`),
        columns: coded.map(({ code }) => indicator(codes, code)),
      }
    }
    case "ordered": {
      const codes = codesOf(covariates, block.covariate, block.levels.length)
      const polynomials = orthogonalPolynomials(block.levels.length, block.degree)
      return {
        names: polynomials.map((_, k) => `${block.covariate}^${k + 1}`),
        columns: polynomials.map((values) => codes.map((code) => values[code] ?? NaN)),
      }
    }
    case "spline": {
      const columns = splineColumns(valuesOf(covariates, block.covariate), block.knots)
      return { names: columns.map((_, k) => `${block.covariate} s${k + 1}`), columns }
    }
    case "cyclic": {
      const angle = valuesOf(covariates, block.covariate)
      return {
        names: [`cos ${block.covariate}`, `sin ${block.covariate}`],
        columns: [angle.map(Math.cos), angle.map(Math.sin)],
      }
    }
    case "interaction": {
      const [a, b] = block.of.map((part) => codeBlock(part, covariates))
      if (a === undefined || b === undefined) throw new RangeError("An interaction has two parts.")
      return {
        names: a.names.flatMap((name) => b.names.map((other) => `${name} x ${other}`)),
        columns: a.columns.flatMap((column) =>
          b.columns.map((other) => column.map((value, i) => value * (other[i] ?? NaN))),
        ),
      }
    }
  }
}

/** 1 where the code is this one, 0 elsewhere. */
function indicator(codes: Float64Array, code: number): Float64Array {
  const column = new Float64Array(codes.length)
  for (let i = 0; i < column.length; i++) if (codes[i] === code) column[i] = 1
  return column
}

function valuesOf({ rows, values }: Covariates, name: string): Float64Array {
  const found = values.get(name)
  if (found === undefined) throw new RangeError(`There is no covariate ${name}.`)
  if (found.length !== rows)
    throw new RangeError(`The covariate ${name} has ${found.length} values for ${rows} rows.`)
  for (let i = 0; i < rows; i++) {
    const value = found[i] ?? NaN
    if (!Number.isFinite(value))
      throw new RangeError(`The covariate ${name} must be finite; row ${i} has ${value}.`)
  }
  return found
}

function codesOf(covariates: Covariates, name: string, levels: number): Float64Array {
  const codes = valuesOf(covariates, name)
  for (let i = 0; i < codes.length; i++) {
    const code = codes[i] ?? NaN
    if (!(Number.isInteger(code) && code >= 0 && code < levels))
      throw new RangeError(`Levels of ${name} are numbered from 0 to ${levels - 1}; a row has ${code}.`)
  }
  return codes
}

/** Polynomials of degree 1 to `degree` on 0 to levels - 1, orthogonal to each other and to a constant, of length 1.
 *  Source: Chambers & Hastie (1992) Statistical Models in S, 2.3.2 (from memory). */
function orthogonalPolynomials(levels: number, degree: number): Float64Array[] {
  if (!(degree >= 1 && degree < levels)) {
    throw new RangeError(`${levels} levels carry polynomials of degree 1 to ${levels - 1}, not ${degree}.`)
  }
  const basis = [new Float64Array(levels).fill(1 / Math.sqrt(levels))]
  for (let power = 1; power <= degree; power++) {
    const values = Float64Array.from({ length: levels }, (_, k) => (k - (levels - 1) / 2) ** power)
    for (const earlier of basis) {
      const share = values.reduce((sum, value, k) => sum + value * (earlier[k] ?? 0), 0)
      earlier.forEach((value, k) => {
        values[k] = (values[k] ?? 0) - share * value
      })
    }
    const length = Math.hypot(...values)
    basis.push(values.map((value) => value / length))
  }
  return basis.slice(1)
}
