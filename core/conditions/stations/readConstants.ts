import { CsvError, parse } from "csv-parse/sync"
import { z } from "zod"
import { ProblemError } from "../../../shared/problems.ts"
import { convert, type UnitId } from "../../../shared/units.ts"
import { isConstituent, type ConstituentName } from "../tide/constituents.ts"

/** Constants as stations are stored: name, amplitude (m, or kn for a current), phase lag on the UTC meridian, degrees. */
export type ReadConstants = readonly (readonly [ConstituentName, number, number])[]

const mostBytes = 1_000_000
const amplitudes: Readonly<Record<"tide" | "current", readonly UnitId[]>> = {
  tide: ["m", "cm", "ft"],
  current: ["kn", "ms"],
}
/** Other spellings of constituents, as tables print them (from memory). */
const aliases: Readonly<Record<string, ConstituentName>> = {
  RHO1: "RHO",
  LDA2: "LAM2",
  LAMBDA2: "LAM2",
  NUE2: "NU2",
  MUE2: "MU2",
}

/**
 * Reads harmonic constants from a CSV file with the columns `name`, `amplitude_m` (or `_cm`, `_ft`; for a current `_kn` or
 * `_ms`) and `phase_deg_gmt`. Throws a ProblemError that names line and value: for a missing column, a constituent that is not
 * predicted here (dropping it in silence would predict wrongly), one told twice, or what is no number.
 */
export function readConstants(
  { name, bytes }: { readonly name: string; readonly bytes: Uint8Array },
  kind: "tide" | "current",
): ReadConstants {
  const refuse = (why: string): ProblemError =>
    new ProblemError("station_unreadable", `${name}: ${why} Nothing was stored.`, { file: name })
  if (bytes.length > mostBytes) throw refuse("It is over 1 MB, too large for a list of harmonic constants.")
  const rows = tableOf(bytes, refuse)
  const [first] = rows
  if (first === undefined) throw refuse("There is no row below the header line.")
  const unit = amplitudes[kind].find((one) => `amplitude_${one}` in first)
  const wanted = ["name", `amplitude_${amplitudes[kind][0]}`, "phase_deg_gmt"]
  if (unit === undefined || !("name" in first) || !("phase_deg_gmt" in first))
    throw refuse(`It needs the columns ${wanted.join(", ")}; it has ${Object.keys(first).join(", ")}.`)
  const seen = new Set<ConstituentName>()
  return rows.map((row, i) => {
    const line = i + 2
    const typed = (row["name"] ?? "").toUpperCase()
    const constituent = aliases[typed] ?? typed
    if (!isConstituent(constituent))
      throw refuse(`Line ${line} names the constituent "${row["name"] ?? ""}", which is not predicted here.`)
    if (seen.has(constituent)) throw refuse(`Line ${line} tells ${constituent} a second time.`)
    seen.add(constituent)
    const amplitude = numberIn(row[`amplitude_${unit}`])
    const phase = numberIn(row["phase_deg_gmt"])
    if (amplitude === null || amplitude < 0)
      throw refuse(`Line ${line} gives ${constituent} the amplitude "${row[`amplitude_${unit}`] ?? ""}".`)
    if (phase === null || Math.abs(phase) > 360)
      throw refuse(
        `Line ${line} gives ${constituent} the phase "${row["phase_deg_gmt"] ?? ""}", not 0 to 360 degrees.`,
      )
    return [constituent, convert(amplitude, unit, kind === "tide" ? "m" : "kn"), phase]
  })
}

/** Main constituents, without which a prediction is rough. Common practice, no source. */
const main: readonly ConstituentName[] = ["M2", "S2", "N2", "K1", "O1"]

/** The main constituents that a station's constants lack. */
export const missingMain = (constants: ReadConstants): ConstituentName[] =>
  main.filter((name) => !constants.some(([told]) => told === name))

const Rows = z.array(z.record(z.string(), z.string()))

function tableOf(bytes: Uint8Array, refuse: (why: string) => ProblemError): z.infer<typeof Rows> {
  try {
    const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes)
    return Rows.parse(
      parse(text, {
        bom: true,
        trim: true,
        skip_empty_lines: true,
        columns: (header: string[]) => header.map((title) => title.toLowerCase()),
      }),
    )
  } catch (error) {
    if (error instanceof CsvError) throw refuse(`It is not a table: ${error.message}.`)
    throw refuse("It is not a text file in UTF-8.")
  }
}

function numberIn(cell: string | undefined): number | null {
  const value = cell === undefined || cell === "" ? Number.NaN : Number(cell)
  return Number.isFinite(value) ? value : null
}
