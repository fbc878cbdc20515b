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
/** No constituent is larger on earth (M2 reaches some 6 m in the Bay of Fundy, from memory): another unit was meant. */
const largest = { tide: 10, current: 20 } as const
const longestShown = 60
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
  const columns = Object.keys(rows[0]?.record ?? {})
  if (columns.length === 0) throw refuse("There is no row below the header line.")
  const unit = amplitudes[kind].find((one) => columns.includes(`amplitude_${one}`))
  const wanted = ["name", `amplitude_${amplitudes[kind][0]}`, "phase_deg_gmt"]
  if (unit === undefined || !columns.includes("name") || !columns.includes("phase_deg_gmt"))
    throw refuse(`It needs the columns ${wanted.join(", ")}; it has ${shown(columns.join(", "))}.`)
  const stored = kind === "tide" ? "m" : "kn"
  const seen = new Set<ConstituentName>()
  return rows.map(({ record, info }) => {
    const cell = (column: string) => record[column] ?? ""
    const line = `Line ${info.lines}`
    const typed = cell("name").toUpperCase()
    const constituent = aliases[typed] ?? typed
    if (!isConstituent(constituent))
      throw refuse(`${line} names the constituent ${shown(cell("name"))}, which is not predicted here.`)
    if (seen.has(constituent)) throw refuse(`${line} tells ${constituent} a second time.`)
    seen.add(constituent)
    const amplitude = convert(numberIn(cell(`amplitude_${unit}`)), unit, stored)
    const phase = numberIn(cell("phase_deg_gmt"))
    if (!(amplitude >= 0 && amplitude <= largest[kind]))
      throw refuse(
        `${line} gives ${constituent} the amplitude ${shown(cell(`amplitude_${unit}`))}, not 0 to ${largest[kind]} ${stored}.`,
      )
    if (!(Math.abs(phase) <= 360))
      throw refuse(
        `${line} gives ${constituent} the phase ${shown(cell("phase_deg_gmt"))}, not 0 to 360 degrees.`,
      )
    return [constituent, amplitude, phase]
  })
}

/** What the file says, quoted: its beginning, and nothing that a terminal would take for a command. */
const shown = (text: string): string =>
  JSON.stringify(text.length > longestShown ? `${text.slice(0, longestShown)}...` : text)

/** Main constituents, without which a prediction is rough. Common practice, no source. */
const main: readonly ConstituentName[] = ["M2", "S2", "N2", "K1", "O1"]

/** The main constituents that a station's constants lack. */
export const missingMain = (constants: ReadConstants): ConstituentName[] =>
  main.filter((name) => !constants.some(([told]) => told === name))

const Rows = z.array(
  z.object({ record: z.record(z.string(), z.string()), info: z.object({ lines: z.int() }) }),
)

function tableOf(bytes: Uint8Array, refuse: (why: string) => ProblemError): z.infer<typeof Rows> {
  try {
    const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes)
    return Rows.parse(
      parse(text, {
        bom: true,
        trim: true,
        info: true,
        skip_empty_lines: true,
        columns: (header: string[]) => header.map((title) => title.toLowerCase()),
      }),
    )
  } catch (error) {
    if (error instanceof CsvError) throw refuse(`It is not a table: ${shown(error.message)}.`)
    throw refuse("It is not a text file in UTF-8.")
  }
}

const numberIn = (cell: string): number => (/^[-+.\de]+$/i.test(cell) ? Number(cell) : Number.NaN)
