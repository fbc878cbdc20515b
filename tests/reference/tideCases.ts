import { z } from "zod"
import { isConstituent } from "../../core/conditions/tide/constituents.ts"
import type { HarmonicConstant } from "../../core/conditions/tide/harmonicSum.ts"
import { harmonicTide, type TideCurve } from "../../core/conditions/tide/tideCurve.ts"
import type { Water } from "../../core/conditions/tide/waters.ts"
import { readCaseFile } from "./case.ts"
import { skyCases } from "./skyCases.ts"

export const instant = z.iso
  .datetime({ precision: null })
  .or(z.string())
  .transform((text) => Date.parse(text))
/** How the cases name high and low water. */
export const waterKind = z
  .enum(["H", "L"])
  .transform((kind) => (kind === "H" ? ("high" as const) : ("low" as const)))

const name = z.string().refine(isConstituent)
const Constituents = z.array(
  z
    .object({ name, amplitude_m: z.number(), phase_deg_gmt: z.number() })
    .transform((told): HarmonicConstant => ({
      name: told.name,
      amplitude: told.amplitude_m,
      phase_deg: told.phase_deg_gmt,
    })),
)

/** A case of heights and turning points from given constants. */
const HarmonicCase = z.object({
  id: z.string(),
  inputs: z.object({
    station: z.string(),
    msl_above_mllw_m: z.number(),
    constituents: Constituents,
    start_utc: instant,
  }),
  expected: z.object({
    hourly_height_m: z.array(z.number()),
    turning_points: z.array(z.object({ utc: instant, height_m: z.number(), type: waterKind })),
  }),
})

export const harmonicCases = skyCases("02-tides-harmonic", "tide-harmonic", HarmonicCase)

/** The curve of a harmonic case's constants, with another mean level or the diurnal range where they are told. */
export function curveOfCase(
  id: string,
  mean_m?: number,
  greatDiurnalRange_m: number | null = null,
): TideCurve {
  const found = harmonicCases.find((one) => one.id === id)
  if (found === undefined) throw new Error(`no case ${id}`)
  const { constituents, msl_above_mllw_m } = found.inputs
  return harmonicTide(constituents, mean_m ?? msl_above_mllw_m, greatDiurnalRange_m)
}

/** A published table of high and low waters in tests/reference/cases/conditions/data. */
export function publishedWaters(file: string): Water[] {
  const [, ...lines] = readCaseFile(`conditions/${file}`).trim().split("\n")
  return lines.map((line) => {
    const [utc = "", kind, , height] = line.split(",")
    return { at: Date.parse(utc), kind: waterKind.parse(kind), height_m: Number(height) }
  })
}

/** The water of the same kind nearest in time. */
export function nearestWater(waters: readonly Water[], { at, kind }: Pick<Water, "at" | "kind">): Water {
  let best: Water | null = null
  for (const water of waters)
    if (water.kind === kind && (best === null || Math.abs(water.at - at) < Math.abs(best.at - at)))
      best = water
  if (best === null) throw new Error("no water of this kind")
  return best
}

/** How far a predicted curve's turning points are from a published table (which has pairs of waters under 3 cm apart too): minutes and
 * centimetres, water by water, in ascending order. */
export function compared(curve: TideCurve, published: readonly Water[]) {
  const pairs = published.map((water) => ({
    water,
    own: nearestWater(curve.watersAround(water.at).all, water),
  }))
  const ascending = (values: number[]) => Float64Array.from(values).sort()
  return {
    minutes: ascending(pairs.map(({ water, own }) => Math.abs(own.at - water.at) / 60_000)),
    centimetres: ascending(pairs.map(({ water, own }) => Math.abs(own.height_m - water.height_m) * 100)),
  }
}

export const meanOf = (values: Float64Array): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length
export const quantileOf = (ascending: Float64Array, part: number): number =>
  ascending[Math.min(ascending.length - 1, Math.floor(part * ascending.length))] ?? Number.NaN
