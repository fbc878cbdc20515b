import { tideParts, tideStages } from "../../../shared/vocabulary.ts"
import type { TideCurve } from "./tideCurve.ts"
import { lastBefore, type Water } from "./waters.ts"

export type TideStage = (typeof tideStages)[number]
export type TidePart = (typeof tideParts)[number]

/**
 * The tide at an instant. What a tide needs to have turning points for is null where the tide is too small to tell
 * them: stage, part, phase and range, and the waters themselves.
 */
export type TideState = {
  readonly height_m: number
  /** Metres an hour; falling is negative. */
  readonly rate_m_h: number
  readonly stage: TideStage | null
  readonly part: TidePart | null
  /** Low water 0, high water pi, below 2 pi. */
  readonly phase_rad: number | null
  /** Of the present rise or fall. */
  readonly range_m: number | null
  /** Range over a lunar day about the instant, over the great diurnal range: about 1 on average. */
  readonly spring_neap: number | null
  readonly previous: Water | null
  readonly next: Water | null
}

const lunarDayMs = 24.84 * 3_600_000
/** Range over a lunar day below which turning points hang on millimetres. Ours. */
const weakestTide_m = 0.2
/** How far from high or low water a stand reaches, of the half cycle between them. Ours: 2% of the range in a cosine. */
const stand = 1 / 12

/**
 * Height, rate, stage, part and phase of a tide at an instant in UTC ms, and the waters about it. Words follow the
 * heights alone: what floods or ebbs is a matter of currents. Definitions: National Ocean Service, Tide and Current
 * Glossary (tide, stand); the width of a stand, thirds and the weak tide are ours.
 */
export function tideAt(curve: TideCurve, at: number): TideState {
  const { all, tides } = curve.watersAround(at)
  const height_m = curve.heightAt(at)
  const range = lunarDayRange(curve, all, at)
  const gt = curve.great_diurnal_range_m
  const measured = { height_m, rate_m_h: curve.rateAt(at), spring_neap: gt === null ? null : range / gt }
  const before = lastBefore(tides, at)
  const previous = tides[before]
  const next = tides[before + 1]
  if (range < weakestTide_m || previous === undefined || next === undefined)
    return {
      ...measured,
      stage: null,
      part: null,
      phase_rad: null,
      range_m: null,
      previous: null,
      next: null,
    }
  const through = (at - previous.at) / (next.at - previous.at)
  const rising = previous.kind === "low"
  return {
    ...measured,
    stage: stageOf(rising, through),
    part: partOf(rising, through),
    phase_rad: (rising ? 0 : Math.PI) + Math.PI * through,
    range_m: Math.abs(next.height_m - previous.height_m),
    previous,
    next,
  }
}

/** Highest less lowest level over a lunar day about an instant, metres. */
function lunarDayRange(curve: TideCurve, all: readonly Water[], at: number): number {
  const from = at - lunarDayMs / 2
  const to = at + lunarDayMs / 2
  const ends = [curve.heightAt(from), curve.heightAt(to)]
  let low = Math.min(...ends)
  let high = Math.max(...ends)
  for (let i = lastBefore(all, from) + 1; i < all.length; i++) {
    const water = all[i]
    if (water === undefined || water.at > to) break
    low = Math.min(low, water.height_m)
    high = Math.max(high, water.height_m)
  }
  return high - low
}

function stageOf(rising: boolean, through: number): TideStage {
  if (through < stand) return rising ? "low stand" : "high stand"
  if (through > 1 - stand) return rising ? "high stand" : "low stand"
  return rising ? "rising" : "falling"
}

const partsOfRise = ["first of the rise", "middle of the rise", "last of the rise"] as const
const partsOfFall = ["first of the fall", "middle of the fall", "last of the fall"] as const

/** The stand, or which third of what lies between the stands. */
function partOf(rising: boolean, through: number): TidePart {
  const stage = stageOf(rising, through)
  if (stage === "low stand" || stage === "high stand") return stage
  const [first, middle, last] = rising ? partsOfRise : partsOfFall
  const third = (through - stand) / (1 - 2 * stand)
  return third < 1 / 3 ? first : third < 2 / 3 ? middle : last
}
