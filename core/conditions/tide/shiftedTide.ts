import { byYear, type TideCurve } from "./tideCurve.ts"
import { lastBefore, type Water } from "./waters.ts"

/** What turns a known station's high (or low) waters into a place's own: minutes later, then times ratio, plus metres. */
export type WaterOffset = { readonly minutes: number; readonly ratio: number; readonly plus_m: number }
export type TideOffsets = { readonly high: WaterOffset; readonly low: WaterOffset }

/** A reference water and what it becomes. */
type Pair = { readonly at: number; readonly reference: Water; readonly own: Water }

/**
 * The tide of a place whose high and low waters follow a reference station's by offsets, heights above the reference's
 * datum. Between the waters the reference's own curve is drawn out in time and height to fit: an interpolation, closer
 * than a cosine. Where offsets would make two waters change places, the pair is left out. Source of the offsets' rule:
 * National Ocean Service tide tables, differences and ratios (from memory).
 */
export function shiftedTide(reference: TideCurve, offsets: TideOffsets): TideCurve {
  const pairsAround = byYear((from, to) => {
    const middle = (from + to) / 2
    return inOrder(
      reference.watersAround(middle).tides.map((water) => {
        const { minutes, ratio, plus_m } = offsets[water.kind]
        const at = Math.round(water.at + minutes * 60_000)
        return {
          at,
          reference: water,
          own: { kind: water.kind, at, height_m: water.height_m * ratio + plus_m },
        }
      }),
    )
  })
  const limbAt = (at: number): Limb => {
    const pairs = pairsAround(at)
    const i = Math.min(Math.max(lastBefore(pairs, at), 0), pairs.length - 2)
    return { from: pairs[i], to: pairs[i + 1] }
  }
  const gt = reference.great_diurnal_range_m
  const waters = byYear((from, to) => {
    const tides = pairsAround((from + to) / 2).map(({ own }) => own)
    return { all: tides, tides }
  })
  return {
    heightAt: (at) => {
      const { from, to } = limbAt(at)
      if (from === undefined || to === undefined) return reference.heightAt(at)
      const known = reference.heightAt(referenceTime(from, to, at))
      return from.own.height_m + (known - from.reference.height_m) * stretch(from, to)
    },
    rateAt: (at) => {
      const { from, to } = limbAt(at)
      if (from === undefined || to === undefined) return reference.rateAt(at)
      const faster = (to.reference.at - from.reference.at) / (to.at - from.at)
      return reference.rateAt(referenceTime(from, to, at)) * stretch(from, to) * faster
    },
    watersAround: waters,
    great_diurnal_range_m:
      gt === null ? null : gt * offsets.high.ratio + offsets.high.plus_m - offsets.low.plus_m,
    interpolated: true,
  }
}

type Limb = { readonly from: Pair | undefined; readonly to: Pair | undefined }

const stretch = (from: Pair, to: Pair): number =>
  (to.own.height_m - from.own.height_m) / (to.reference.height_m - from.reference.height_m)

const referenceTime = (from: Pair, to: Pair, at: number): number =>
  from.reference.at + ((at - from.at) / (to.at - from.at)) * (to.reference.at - from.reference.at)

/** Leaves out neighbouring waters that the offsets made change places in time, or a high below its low. */
function inOrder(pairs: readonly Pair[]): Pair[] {
  const kept: Pair[] = []
  for (const pair of pairs) {
    const last = kept.at(-1)
    if (last !== undefined && (pair.at <= last.at || !risesRightly(last.own, pair.own))) kept.pop()
    else kept.push(pair)
  }
  return kept
}

const risesRightly = (a: Water, b: Water): boolean =>
  a.kind === "low" ? b.height_m > a.height_m : b.height_m < a.height_m
