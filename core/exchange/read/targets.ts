import { type FactorId, factorIds, factorOf } from "../../../shared/factors.ts"
import { type Dimension, type UnitId, unitFor, units } from "../../../shared/units.ts"
import type { DayOrder } from "./dates.ts"
import { fold, foldedParts } from "./fold.ts"
import { observedCells } from "./observedCell.ts"

export type TableKind = "stints" | "strikes"
export type CountField = "strikes" | "hook_ups" | "landed"
export type WordField =
  | "trip"
  | "stop"
  | "stint"
  | "zone"
  | "angler"
  | "spot"
  | "station"
  | "target"
  | "species"
  | "notes"
  | "completeness"
  | "fate"
  | "took_on"
  | "kept"

/** What a column means to us. Units are those of the header, null where it names none. */
export type Target =
  | { readonly kind: "word"; readonly field: WordField }
  | {
      readonly kind: "moment"
      readonly field: "date" | "start" | "end" | "at"
      readonly order: DayOrder | null
    }
  | { readonly kind: "effort"; readonly field: "hours" | "minutes" | "rod_hours" }
  | { readonly kind: "count"; readonly field: CountField; readonly species: string | null }
  | { readonly kind: "tally"; readonly field: "follows" | "hang_ups" | "lures_lost" | "rods" }
  | { readonly kind: "place"; readonly field: "lat" | "lon" }
  | { readonly kind: "measure"; readonly field: "length_mm" | "weight_g"; readonly unit: UnitId | null }
  | { readonly kind: "factor"; readonly id: FactorId; readonly unit: UnitId | null }
  | { readonly kind: "derived"; readonly id: FactorId }

/** How a header reads: one meaning, several between which the user must choose, or null for none. */
export type Recognition =
  | { readonly kind: "one"; readonly target: Target }
  | { readonly kind: "several"; readonly ids: readonly string[] }
  | null

const word = (field: WordField): Target => ({ kind: "word", field })
const moment = (field: "date" | "start" | "end" | "at"): Target => ({ kind: "moment", field, order: null })
const effort = (field: "hours" | "minutes" | "rod_hours"): Target => ({ kind: "effort", field })
const count = (field: CountField): Target => ({ kind: "count", field, species: null })
const tally = (field: "follows" | "hang_ups" | "lures_lost" | "rods"): Target => ({ kind: "tally", field })
const place = (field: "lat" | "lon"): Target => ({ kind: "place", field })

/** Our names, each followed by ordinary words that mean the same. */
const stintNames: readonly (readonly [Target, readonly string[]])[] = [
  [word("trip"), ["trip", "outing"]],
  [word("stop"), ["stop"]],
  [word("stint"), ["stint"]],
  [word("zone"), ["zone", "time zone"]],
  [word("angler"), ["angler"]],
  [word("spot"), ["spot", "place", "location"]],
  [word("station"), ["station", "tide station"]],
  [word("target"), ["target", "target species"]],
  [word("species"), ["species"]],
  [word("notes"), ["notes", "note", "comment", "comments", "remarks"]],
  [word("completeness"), ["completeness"]],
  [moment("date"), ["date", "trip date", "date fished"]],
  [moment("start"), ["start", "start time", "began", "begun", "started"]],
  [moment("end"), ["end", "end time", "ended", "finish", "finished", "stopped"]],
  [effort("hours"), ["hours", "hours fished", "time fished"]],
  [effort("minutes"), ["minutes", "minutes fished"]],
  [effort("rod_hours"), ["rod_hours"]],
  [count("strikes"), ["strikes", "bites"]],
  [count("hook_ups"), ["hook_ups", "hooked"]],
  [count("landed"), ["landed", "fish landed", "fish caught", "caught"]],
  [tally("follows"), ["follows"]],
  [tally("hang_ups"), ["hang_ups", "snags"]],
  [tally("lures_lost"), ["lures_lost", "lost lures"]],
  [tally("rods"), ["rods", "number of rods"]],
  [place("lat"), ["lat", "latitude"]],
  [place("lon"), ["lon", "lng", "longitude"]],
]
const strikeNames: readonly (readonly [Target, readonly string[]])[] = [
  [word("stint"), ["stint"]],
  [word("fate"), ["fate"]],
  [word("species"), ["species"]],
  [word("kept"), ["kept"]],
  [word("took_on"), ["took_on"]],
  [moment("at"), ["at", "time"]],
]

type Measured = {
  readonly stem: string
  readonly id: string
  readonly unit: UnitId
  readonly make: (unit: UnitId | null) => Target
}

/** Factors whose header is often followed by words instead of numbers: they count only with a unit. */
const unitRequired: ReadonlySet<string> = new Set(["cloud", "moonphase", "tidephase", "wind"])
/** Ordinary words for the first part of a factor's name. */
const otherStems: readonly (readonly [string, readonly FactorId[]])[] = [
  ["depth", ["water_depth_m", "fished_depth_m"]],
  ["water temperature", ["water_temp_c"]],
  ["wind direction", ["wind_dir_deg"]],
  ["wind", ["wind_speed_ms"]],
]

const factorTarget =
  (id: FactorId) =>
  (unit: UnitId | null): Target => ({ kind: "factor", id, unit })

/** The factors that have a unit, each under its name without the unit. */
function measuredFactors(): Measured[] {
  const measured: Measured[] = []
  for (const id of factorIds) {
    const factor = factorOf(id)
    if (factor.kind === "categorical" || factor.unit === null) continue
    const row = { id, unit: factor.unit, make: factorTarget(id) }
    measured.push({ ...row, stem: fold(id.slice(0, -factor.unit.length - 1)) })
    for (const [stem, ids] of otherStems) if (ids.includes(id)) measured.push({ ...row, stem: fold(stem) })
  }
  return measured
}

const measuredStrikes: readonly Measured[] = [
  {
    stem: "length",
    id: "length_mm",
    unit: "mm",
    make: (unit) => ({ kind: "measure", field: "length_mm", unit }),
  },
  {
    stem: "weight",
    id: "weight_g",
    unit: "g",
    make: (unit) => ({ kind: "measure", field: "weight_g", unit }),
  },
]

const namesOf = (rows: readonly (readonly [Target, readonly string[]])[]): Map<string, Target> =>
  new Map(rows.flatMap(([target, names]) => names.map((name) => [fold(name), target] as const)))

const taken: ReadonlySet<FactorId> = new Set<FactorId>(["spot", "angler", "rods"])

function factorNames(): Map<string, Target> {
  const names = new Map<string, Target>()
  for (const id of factorIds) {
    const factor = factorOf(id)
    if (taken.has(id)) continue
    if (factor.home === "derived") names.set(fold(id), { kind: "derived", id })
    else if (factor.kind === "categorical" || factor.unit === null)
      names.set(fold(id), { kind: "factor", id, unit: null })
  }
  return names
}

const vocabulary = {
  stints: { names: new Map([...factorNames(), ...namesOf(stintNames)]), measured: measuredFactors() },
  strikes: { names: namesOf(strikeNames), measured: measuredStrikes },
} as const

const bracketed = /^(.*?)\s*[([]\s*([^()[\]]*?)\s*[)\]]\s*$/

/** What a header, or the right side of a mapping, means in a table of this kind. */
export function recognise(header: string, kind: TableKind): Recognition {
  const inBrackets = bracketed.exec(header)
  const name = inBrackets?.[1] ?? header
  const unit = inBrackets?.[2] ?? null
  const plain = vocabulary[kind].names.get(fold(name))
  if (plain !== undefined) return withUnit(plain, unit)
  const parts = foldedParts(name)
  if (parts.length === 0) return null
  if (unit !== null) return measuredAs(kind, parts, unit)
  for (const length of [1, 2]) {
    if (parts.length <= length) break
    const found = measuredAs(kind, parts.slice(0, -length), parts.slice(-length).join(""))
    if (found !== null) return found
  }
  return measuredAs(kind, parts, null)
}

/** A header of ours with a unit in brackets: only efforts can have another unit than the name says. */
function withUnit(target: Target, unit: string | null): Recognition {
  if (unit === null || unit === "") return { kind: "one", target }
  if (target.kind !== "effort" || target.field === "rod_hours") return { kind: "one", target }
  if (/^h(ou)?rs?$|^h$/i.test(unit)) return { kind: "one", target: effort("hours") }
  if (/^min(ute)?s?$/i.test(unit)) return { kind: "one", target: effort("minutes") }
  return null
}

function measuredAs(kind: TableKind, stemParts: readonly string[], unit: string | null): Recognition {
  const stem = stemParts.join("")
  const fits: { id: string; target: Target }[] = []
  for (const candidate of vocabulary[kind].measured) {
    if (candidate.stem !== stem || (unit === null && unitRequired.has(stem))) continue
    const dimension: Dimension = units[candidate.unit].dimension
    const found = unit === null ? null : unitFor(unit, dimension)
    if (unit === null || found !== null) {
      fits.push({
        id: unit === null ? candidate.id : withSuffix(candidate, found),
        target: candidate.make(found),
      })
    }
  }
  const [only, more] = fits
  if (only === undefined) return null
  return more === undefined
    ? { kind: "one", target: only.target }
    : { kind: "several", ids: fits.map((fit) => fit.id) }
}

/** The candidate's id with another unit at its end: water_depth_m in feet is water_depth_ft. */
const withSuffix = (candidate: Measured, unit: UnitId | null): string =>
  `${candidate.id.slice(0, -candidate.unit.length)}${unit ?? candidate.unit}`

/** One name for each thing a row can hold, by which two columns for the same thing are noticed. */
export function targetKey(target: Target): string {
  switch (target.kind) {
    case "count":
      return target.species === null ? target.field : `${target.field}:${target.species.toLowerCase()}`
    case "factor":
    case "derived":
      return target.id
    case "word":
    case "moment":
    case "effort":
    case "tally":
    case "place":
    case "measure":
      return target.field
  }
}

/** The names that a mapping's right side may have, for the sentence that lists them. */
export const targetNames = (kind: TableKind): string =>
  kind === "stints"
    ? `${stintNames.map(([target]) => targetKey(target)).join(", ")}, or a factor such as lure_class, head_weight_g, water_temp_c`
    : "stint, fate, species, length_mm, weight_g, kept, at, took_on"

/** In words how a column is read, and what its cells may hold besides numbers. */
export function describe(target: Target): string {
  const besides = target.kind === "factor" ? observedCells[target.id]?.besides : undefined
  return besides === undefined ? asNumbers(target) : `${asNumbers(target)}; also ${besides}`
}

function asNumbers(target: Target): string {
  switch (target.kind) {
    case "derived":
      return "not read: it follows from the other columns"
    case "count":
      return target.species === null ? target.field : `${target.field}, ${target.species}`
    case "measure":
    case "factor": {
      const key = targetKey(target)
      if (target.unit === null) return needsCellUnit(target) ? `${key}, unit in each cell` : key
      return key.endsWith(`_${target.unit}`) ? key : `${key}, from ${units[target.unit].symbol}`
    }
    case "moment":
      return target.order === null
        ? target.field
        : `${target.field}, ${target.order === "dmy" ? "day" : "month"} first`
    case "effort":
    case "tally":
    case "place":
    case "word":
      return target.field
  }
}

function needsCellUnit(target: Target): boolean {
  if (target.kind === "measure") return true
  if (target.kind !== "factor") return false
  const factor = factorOf(target.id)
  return factor.kind !== "categorical" && factor.unit !== null
}
