import { z } from "zod"
import type { ClusteredRows, Family, Rows } from "../../core/stats/likelihood/rows.ts"
import { type Matrix, fromColumns } from "../../core/stats/matrix/matrix.ts"
import { readCaseFile } from "./case.ts"

/** A model case's design: each column a product of level indicators and numeric columns of the data. */
const part = z.union([z.object({ factor: z.string(), level: z.string() }), z.object({ value: z.string() })])
const designColumn = z.object({ name: z.string(), product_of: z.array(part) })

export const modelInputs = z.object({
  data: z.string(),
  family: z.enum(["binomial", "poisson", "nbinom2"]).default("poisson"),
  link: z.enum(["logit", "cloglog", "log"]).default("log"),
  response: z.string(),
  trials: z.string().nullish(),
  offset: z.string().nullish(),
  cluster: z.string().nullish(),
  columns: z.array(designColumn),
  factors: z.record(z.string(), z.array(z.string())).default({}),
})

export type ModelInputs = z.infer<typeof modelInputs>
export type DesignColumn = z.infer<typeof designColumn>

/** A data file's columns, as text. The files hold no quoted cells. */
export type Table = { rows: number; text: ReadonlyMap<string, string[]> }

export function readTable(file: string): Table {
  const [head = "", ...lines] = readCaseFile(`stats/${file}`).trim().split("\n")
  const cells = lines.map((line) => line.split(","))
  const text = new Map(head.split(",").map((name, j) => [name, cells.map((row) => row[j] ?? "")]))
  return { rows: cells.length, text }
}

export function textColumn({ text }: Table, name: string): string[] {
  const values = text.get(name)
  if (values === undefined) throw new Error(`The data have no column ${name}.`)
  return values
}

export function numericColumn(table: Table, name: string): Float64Array {
  return Float64Array.from(textColumn(table, name), Number)
}

/** The design as the case spells it out. */
export function designOf(table: Table, columns: readonly DesignColumn[]): Matrix {
  return fromColumns(
    columns.map(({ product_of }) => {
      const values = new Float64Array(table.rows).fill(1)
      for (const factor of product_of) {
        const by =
          "value" in factor
            ? numericColumn(table, factor.value)
            : Float64Array.from(textColumn(table, factor.factor), (level) => (level === factor.level ? 1 : 0))
        by.forEach((value, i) => {
          values[i] = (values[i] ?? 0) * value
        })
      }
      return values
    }),
    table.rows,
  )
}

export function familyOf({ family, link }: ModelInputs): Exclude<Family, "gaussian"> {
  if (family === "nbinom2") return "negative binomial"
  if (family === "poisson") return "poisson"
  return link === "cloglog" ? "binomial cloglog" : "binomial logit"
}

/** Design, response, trials as weights, and offset of a case; `columns` may be fewer than the case's. */
export function rowsOf(inputs: ModelInputs, columns: readonly DesignColumn[] = inputs.columns): Rows {
  const table = readTable(inputs.data)
  const { trials, offset } = inputs
  return {
    x: designOf(table, columns),
    y: numericColumn(table, inputs.response),
    weights: typeof trials === "string" ? numericColumn(table, trials) : undefined,
    offset: typeof offset === "string" ? numericColumn(table, offset) : undefined,
  }
}

/** The same with clusters numbered in order of appearance, and their names. */
export function clusteredRowsOf(inputs: ModelInputs): ClusteredRows & { names: string[] } {
  if (typeof inputs.cluster !== "string") throw new Error("The case names no cluster.")
  const labels = textColumn(readTable(inputs.data), inputs.cluster)
  const names = [...new Set(labels)]
  const place = new Map(names.map((name, at) => [name, at]))
  return {
    ...rowsOf(inputs),
    cluster: Int32Array.from(labels, (label) => place.get(label) ?? -1),
    clusters: names.length,
    names,
  }
}

/** The columns without those of a term, which is a factor's or covariate's name, or several joined by ":". */
export function withoutTerm(inputs: ModelInputs, term: string): DesignColumn[] {
  const parts = term.split(":")
  return inputs.columns.filter(({ product_of }) => {
    const names = product_of.map((part) => ("value" in part ? part.value : part.factor))
    return !(names.length === parts.length && parts.every((part) => names.includes(part)))
  })
}
