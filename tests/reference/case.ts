import { readFileSync } from "node:fs"
import { z } from "zod"

/** A number as the cases write it: infinite ends are strings. */
export const number = z.union([
  z.number(),
  z.literal("Infinity").transform(() => Infinity),
  z.literal("-Infinity").transform(() => -Infinity),
])

/** A list of numbers; a list of one may be written as a bare number. */
export const numbers = z
  .union([z.array(number), number.transform((value) => [value])])
  .transform((values) => Float64Array.from(values))

const tolerance = z
  .object({ rel: z.number().default(0), abs: z.number().default(0), relative: z.number().optional() })
  .transform(({ rel, abs, relative }) => ({ rel: relative ?? rel, abs }))

export type Tolerance = z.infer<typeof tolerance>

export function caseSchema<I extends z.ZodType, E extends z.ZodType>(inputs: I, expected: E) {
  return z.object({ id: z.string(), source: z.string(), inputs, expected, tolerance })
}

/** Text of a file in tests/reference/cases. */
export function readCaseFile(path: string): string {
  return readFileSync(new URL(`cases/${path}`, import.meta.url), "utf8")
}

/** The case in tests/reference/cases/<path>, its inputs and expected values parsed. */
export function loadCase<I extends z.ZodType, E extends z.ZodType>(path: string, inputs: I, expected: E) {
  return caseSchema(inputs, expected).parse(JSON.parse(readCaseFile(path)))
}

/** A row of a table of numbers, as [inputs, expected]. */
export type TableRow = { inputs: Float64Array; expected: Float64Array }

/** The rows of a table case, and its tolerance. */
export function loadTable(path: string): { rows: TableRow[]; tolerance: Tolerance } {
  const table = z.object({ rows: z.array(numbers) })
  const { inputs, expected, tolerance } = loadCase(path, table, table)
  const rows = inputs.rows.map((row, i) => ({
    inputs: row,
    expected: expected.rows[i] ?? new Float64Array(),
  }))
  return { rows, tolerance }
}

/** Whether got is within max(abs, rel |expected|) of expected. */
function isClose(got: number | null, expected: number | null, { rel, abs }: Tolerance): boolean {
  if (got === null || expected === null) return got === expected
  return got === expected || Math.abs(got - expected) <= Math.max(abs, rel * Math.abs(expected))
}

/** Null where got is within tolerance of expected, else a sentence with both values. */
export function difference(
  got: number | null,
  expected: number | null,
  tolerance: Tolerance,
  what: string,
): string | null {
  if (isClose(got, expected, tolerance)) return null
  const limit = Math.max(tolerance.abs, tolerance.rel * Math.abs(expected ?? 0))
  return `${what} is ${got}; expected ${expected} within ${limit}`
}

/** Collects sentences on where values differ from those expected, within a case's tolerance or a stated other one. */
export class Differences {
  readonly sentences: string[] = []
  /** How many values were compared, and the largest relative difference among those not near 0. */
  compared = 0
  worst = 0
  private readonly tolerance: Tolerance

  constructor(tolerance: Tolerance) {
    this.tolerance = tolerance
  }

  add(
    what: string,
    got: number | undefined | null,
    expected: number | undefined | null,
    tolerance: Tolerance = this.tolerance,
  ): void {
    if (expected === undefined || got === undefined) {
      this.sentences.push(`${what} is missing on one side: got ${got}, expected ${expected}`)
      return
    }
    this.compared++
    if (got !== null && expected !== null && Math.abs(expected) > 1e-3)
      this.worst = Math.max(this.worst, Math.abs(got - expected) / Math.abs(expected))
    const sentence = difference(got, expected, tolerance, what)
    if (sentence !== null) this.sentences.push(sentence)
  }
}
