import type { FactorId } from "../../../shared/factors.ts"
import type { UnitId } from "../../../shared/units.ts"
import { beaufort, compassPoints, degreesAPoint, oktasOfPercent, skyCover } from "../../../shared/weather.ts"
import { fold, spaced } from "./fold.ts"
import { type Read, read, readPlainNumber, readQuantity, refused } from "./quantity.ts"

/** Reads a cell as `readQuantity` does: `unit` is that of the header or the chosen one. */
type CellReader = (text: string, unit: UnitId | null, decimalComma: boolean) => Read<number>

/** How the cells of an observed column are read, and in words what they may hold besides numbers. */
type Observed = { readonly read: CellReader; readonly besides: string }

/** The columns of weather and water that people also fill in with words, classes or two numbers. Values are SI. */
export const observedCells: Readonly<Partial<Record<FactorId, Observed>>> = {
  wind_speed_ms: {
    read: readWindSpeed,
    besides: "Beaufort forces, their names and ranges of speed by their middle",
  },
  wind_dir_deg: { read: readWindDirection, besides: "compass points in degrees" },
  cloud_okta: {
    read: readCloud,
    besides: "words for the sky by their middle, per cent and tenths in eighths",
  },
  secchi_cm: { read: readSecchi, besides: "two depths by their mean" },
}

/** The number that a cell holds, and where it holds none a refusal that says what could stand there. */
function quantityOr(number: Read<number>, text: string, wanted: string): Read<number> {
  return number.kind === "read" || /\d/.test(text) ? number : refused(`"${spaced(text)}" is ${wanted}`)
}

const between = String.raw`\s*(?:-|–|to)\s*`
const forceBefore = new RegExp(
  String.raw`^(?:beaufort\s+)?(?:beaufort|bft?|force|f)[\s.]*(\d+)(?:${between}f?(\d+))?$`,
  "i",
)
const forceAfter = new RegExp(String.raw`^(\d+)(?:${between}(\d+))?\s*(?:beaufort|bft?)\.?$`, "i")
const speedRange = new RegExp(String.raw`^(\d[\d.,]*)\s*([^\d\s–-]*)${between}(\d[\d.,]*)\s*(\D*)$`, "i")

/** A speed, a range of speeds (`10-15 kn`) by its middle, or Beaufort forces (`F4`, `3-4 Bft`, `gentle breeze`) by theirs. */
function readWindSpeed(text: string, unit: UnitId | null, decimalComma: boolean): Read<number> {
  const given = spaced(text)
  const forces = forceBefore.exec(given) ?? forceAfter.exec(given)
  if (forces !== null) return middleOfForces(Number(forces[1]), Number(forces[2] ?? forces[1]))
  const named = beaufort.findIndex(({ name }) => fold(name) === fold(given))
  if (named >= 0) return middleOfForces(named, named)
  const speed = readQuantity(given, "ms", unit, decimalComma)
  const range = speed.kind === "refused" ? speedRange.exec(given) : null
  if (range === null)
    return quantityOr(speed, given, "neither a speed nor a Beaufort force (F4, 4 Bft, moderate breeze)")
  const [, low = "", lowUnit = "", high = "", highUnit = ""] = range
  return middle(
    readQuantity(`${low} ${lowUnit === "" ? highUnit : lowUnit}`, "ms", unit, decimalComma),
    readQuantity(`${high} ${highUnit}`, "ms", unit, decimalComma),
    given,
  )
}

function middleOfForces(from: number, upTo: number): Read<number> {
  const low = beaufort[from]?.ms[0]
  const high = beaufort[upTo]?.ms[1]
  if (high === null) return refused(`force ${upTo} has no upper end, so no middle: write the speed`)
  if (low === undefined || high === undefined || low > high)
    return refused("the Beaufort scale has forces 0 to 12, the lower one first")
  return read((low + high) / 2)
}

function middle(low: Read<number>, high: Read<number>, text: string): Read<number> {
  if (low.kind === "refused") return low
  if (high.kind === "refused") return high
  return low.value <= high.value
    ? read((low.value + high.value) / 2)
    : refused(`not a range, the lower first: ${text}`)
}

const quarters = [
  ["north", "n"],
  ["east", "e"],
  ["south", "s"],
  ["west", "w"],
] as const

/** Degrees, or one of the sixteen points by its letters or in words: `NNE`, `north-east`, `from the NE`, `easterly`. */
function readWindDirection(text: string, unit: UnitId | null, decimalComma: boolean): Read<number> {
  const bare = spaced(text).replace(/^from\s+(?:the\s+)?/i, "")
  const word = fold(bare)
    .replaceAll(".", "")
    .replace(/(.)winds?$/, "$1")
    .replace(/(.)erly$/, "$1")
  const letters = quarters.reduce((rest, [name, letter]) => rest.replaceAll(name, letter), word)
  const point = compassPoints.findIndex((one) => one.toLowerCase() === letters)
  if (point >= 0) return read(point * degreesAPoint)
  return quantityOr(
    readQuantity(bare, "deg", unit, decimalComma),
    text,
    "neither degrees nor a compass point from which the wind comes (N, NNE, north-east)",
  )
}

/** Oktas (`3`, `3/8`), a word for the sky (`BKN`, `overcast`), per cent (`40%`) or tenths (`4/10`). */
function readCloud(text: string, unit: UnitId | null, decimalComma: boolean): Read<number> {
  const word = fold(text)
  const sky = skyCover.find(({ code, name }) => word === name || word === fold(code))
  if (sky !== undefined) return read((sky.oktas[0] + sky.oktas[1]) / 2)
  const percent = /^(.*)%$/.exec(text.trim())?.[1]
  if (percent !== undefined) {
    const number = readPlainNumber(percent, decimalComma)
    return number.kind === "read" ? oktasOf(number.value, text) : number
  }
  const [, covered = "", parts] = /^([^/]+)\/\s*(\d+)\s*(?:oktas?)?$/i.exec(text.trim()) ?? []
  if (parts !== undefined) {
    const number = readPlainNumber(covered, decimalComma)
    if (number.kind === "refused" || parts === "8") return number
    if (parts === "10") return oktasOf(number.value * 10, text)
    return refused(`"${spaced(text)}" is neither eighths (3/8) nor tenths (4/10)`)
  }
  return quantityOr(
    readQuantity(text, "okta", unit, decimalComma),
    text,
    `neither oktas, per cent nor one of ${skyCover.map(({ name }) => name).join(", ")}`,
  )
}

const oktasOf = (percent: number, text: string): Read<number> =>
  percent >= 0 && percent <= 100
    ? read(oktasOfPercent(percent))
    : refused(`"${spaced(text)}" is more than all of the sky or less than none`)

const twoDepths = /^(\d[\d.,]*)\s*([^\d\s/]*)\s*\/\s*(\d[\d.,]*)\s*(\D*)$/

/**
 * A depth, or two by their mean: `1.6/1.4 m`, where the disc was lost and where it came back. Whole numbers with a unit
 * at the end only (`3/4 m`) are a fraction where they make a proper one, and else unclear.
 */
function readSecchi(text: string, unit: UnitId | null, decimalComma: boolean): Read<number> {
  const [, lost = "", lostUnit = "", back = "", backUnit = ""] = twoDepths.exec(spaced(text)) ?? []
  const whole = lostUnit === "" && /^\d+$/.test(lost) && /^\d+$/.test(back)
  if (lost === "" || (whole && Number(lost) < Number(back)))
    return readQuantity(text, "cm", unit, decimalComma)
  if (whole)
    return refused(
      `"${spaced(text)}" may be two depths or a fraction: write "${lost} ${backUnit} / ${back} ${backUnit}"`,
    )
  const first = readQuantity(`${lost} ${lostUnit === "" ? backUnit : lostUnit}`, "cm", unit, decimalComma)
  if (first.kind === "refused") return first
  const second = readQuantity(`${back} ${backUnit}`, "cm", unit, decimalComma)
  return second.kind === "refused" ? second : read((first.value + second.value) / 2)
}
