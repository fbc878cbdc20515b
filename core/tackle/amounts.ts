import { convert } from "../../shared/units.ts"
import { SomeParts } from "../../shared/tackle.ts"

const number = String.raw`(\d+\s+\d+\/\d+|\d+\/\d+|\d+(?:\.\d+)?|\.\d+)`
const weight = new RegExp(String.raw`^${number}\s*(oz|ounces?|g|grams?)(?: (?:jig )?head)?$`)
const size = new RegExp(String.raw`^(\d+\s+\d+\/\d+|\d+\/\d+)(?: (?:jig )?head)?$`)
const length = new RegExp(String.raw`^${number}\s*(in|inch|inches|"|cm|mm|ft)(?: (drop|leader|long))?$`)
const strength = new RegExp(String.raw`^${number}\s*(lb|lbs|kg|n)(?: (?:test|leader|test leader))?$`)
const pause = new RegExp(String.raw`^(?:pauses? )?${number}[\s-]*(?:s|sec|secs|seconds?)(?: pauses?)?$`)
const cycle = /^(\d+)\s*x\s*(\d+(?:\.\d+)?)\s*s?$/

/** A number as the trade writes it: 3, 0.25, 1/4, 1 1/2. */
function valueOf(text: string): number {
  let sum = 0
  for (const part of text.split(/\s+/)) {
    const [over, under = "1"] = part.split("/")
    sum += Number(over) / Number(under)
  }
  return sum
}

const massUnit = (unit: string) => (unit.startsWith("o") ? ("oz" as const) : ("g" as const))
const lengthUnit = (unit: string) =>
  unit === "cm" || unit === "mm" || unit === "ft" ? unit : ("in" as const)
const forceUnit = (unit: string) =>
  unit === "n" ? ("n" as const) : unit === "kg" ? ("kgf" as const) : ("lbf" as const)

/**
 * What an amount of a presentation's line says: `1/4 oz` (a bare fraction is ounces) and `7 g` the head's weight, `18 in drop`
 * the cork's, `24 in leader` and `20 lb` the leader's, `3.5 in` the lure's length, `3 s` the pause, `2x3` two actions and three
 * seconds of pause. SI units. Null where it is none of them, or not above nothing.
 */
export function readAmount(text: string): SomeParts | null {
  const heavy = weight.exec(text)
  if (heavy !== null)
    return above({ head_weight_g: convert(valueOf(heavy[1] ?? ""), massUnit(heavy[2] ?? ""), "g") })
  const bare = size.exec(text)
  if (bare !== null) return above({ head_weight_g: convert(valueOf(bare[1] ?? ""), "oz", "g") })
  const long = length.exec(text)
  if (long !== null) {
    const value = convert(valueOf(long[1] ?? ""), lengthUnit(long[2] ?? ""), "mm")
    if (long[3] === "drop") return above({ cork_drop_mm: value })
    return above(long[3] === "leader" ? { leader_length_mm: value } : { lure_length_mm: value })
  }
  const strong = strength.exec(text)
  if (strong !== null)
    return above({
      leader_strength_n: convert(valueOf(strong[1] ?? ""), forceUnit(strong[2] ?? ""), "n"),
    })
  const still = pause.exec(text)
  if (still !== null) return above({ pause_s: valueOf(still[1] ?? "") })
  const turn = cycle.exec(text)
  return turn === null ? null : above({ actions_per_cycle: Number(turn[1]), pause_s: Number(turn[2]) })
}

/** Amounts kept to a thousandth. */
function above(parts: Record<string, number>): SomeParts | null {
  const rounded = Object.entries(parts).map(
    ([part, value]) => [part, Math.round(value * 1000) / 1000] as const,
  )
  const read = SomeParts.safeParse(Object.fromEntries(rounded))
  return read.success && rounded.every(([, value]) => value > 0) ? read.data : null
}
