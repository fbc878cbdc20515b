import type { DayReading, DayStint, DayStop } from "../../shared/day.ts"
import { counted } from "../../shared/figures.ts"
import type { TapeDay } from "../tape/reader.ts"
import { align } from "./align.ts"
import { mayBeSame, readingKey, stintKey, stopKey } from "./keys.ts"

/** Two changes of one day put together, or the stints that both changed, each otherwise. */
export type Merged =
  | { readonly kind: "merged"; readonly day: TapeDay; readonly told: string[] }
  | { readonly kind: "both"; readonly stints: readonly DayStint[] }

/**
 * Puts one's own change of a day and what was changed elsewhere meanwhile together, stint by stint: `base` is what one's own
 * began from, all three in canonical form. What only one side changed is taken as that side has it.
 */
export function mergeDays(base: TapeDay, mine: TapeDay, theirs: TapeDay): Merged {
  const keysOf = (day: TapeDay) => (stint: DayStint) => stintKey(stint, day)
  const [baseKey, mineKey, theirKey] = [keysOf(base), keysOf(mine), keysOf(theirs)]
  const match = (day: TapeDay, key: (stint: DayStint) => string): number[] =>
    align(
      base.stints.map((stint) => ({ stint, key: baseKey(stint) })),
      day.stints.map((stint) => ({ stint, key: key(stint) })),
      () => null,
      (item) => item.key,
      (one, other) => mayBeSame(one.stint, other.stint),
    )
  const [inMine, inTheirs] = [match(mine, mineKey), match(theirs, theirKey)]
  const theirOf = (at: number): DayStint | undefined => theirs.stints[inTheirs.indexOf(at)]
  const changed = (at: number, stint: DayStint | undefined, key: (stint: DayStint) => string): boolean => {
    const before = base.stints[at]
    return before === undefined || stint === undefined || key(stint) !== baseKey(before)
  }

  const stops: DayStop[] = mine.stops.map((stop) => ({ ...stop }))
  const stopFor = (stint: DayStint): number => {
    const stop = theirs.stops[stint.stop]
    const known = stops.findIndex((own) => stopKey(own) === stopKey(stop))
    if (known >= 0 || stop === undefined) return Math.max(0, known)
    return stops.push({ ...stop }) - 1
  }
  const both: DayStint[] = []
  const kept: DayStint[] = []
  let elsewhere = 0
  for (const [j, stint] of mine.stints.entries()) {
    const at = inMine[j] ?? -1
    const their = at < 0 ? undefined : theirOf(at)
    const theyChanged = at >= 0 && changed(at, their, theirKey)
    const iChanged = at < 0 || changed(at, stint, mineKey)
    if (iChanged && theyChanged && !(their !== undefined && theirKey(their) === mineKey(stint)))
      both.push(stint)
    else if (!theyChanged || iChanged) kept.push({ ...stint, id: their?.id ?? stint.id })
    else {
      elsewhere += 1
      if (their !== undefined) kept.push({ ...their, stop: stopFor(their) })
    }
  }
  for (const at of base.stints.keys())
    if (!inMine.includes(at)) {
      const their = theirOf(at)
      if (their !== undefined && changed(at, their, theirKey)) both.push(their)
    }
  if (both.length > 0) return { kind: "both", stints: both }
  for (const [j, stint] of theirs.stints.entries())
    if ((inTheirs[j] ?? -1) < 0) {
      elsewhere += 1
      insertByTime(kept, { ...stint, stop: stopFor(stint) })
    }
  const readings = mergeReadings(base, mine, theirs, stops, kept)
  return {
    kind: "merged",
    day: { stops, stints: regrouped(kept), readings, unread: mine.unread },
    told:
      elsewhere === 0
        ? []
        : [
            `${counted(elsewhere, "stint")} changed elsewhere meanwhile ${elsewhere === 1 ? "was" : "were"} kept.`,
          ],
  }
}

function insertByTime(stints: DayStint[], stint: DayStint): void {
  const start = stint.start_at
  const before =
    start === null ? -1 : stints.findIndex((other) => other.start_at !== null && other.start_at > start)
  if (before < 0) stints.push(stint)
  else stints.splice(before, 0, stint)
}

/** Groups of both sides may bear the same name: those of one line stay together by their clock. */
function regrouped(stints: readonly DayStint[]): DayStint[] {
  return stints.map((stint) =>
    stint.share_group === null
      ? stint
      : { ...stint, share_group: `${stint.share_group} ${stint.angler_id ?? ""} ${stint.start_at ?? ""}` },
  )
}

function mergeReadings(
  base: TapeDay,
  mine: TapeDay,
  theirs: TapeDay,
  stops: readonly DayStop[],
  stints: readonly DayStint[],
): DayReading[] {
  const keys = (day: TapeDay) => new Set(day.readings.map((reading) => readingKey(reading, day)))
  const [inBase, inMine, inTheirs] = [keys(base), keys(mine), keys(theirs)]
  const place = (reading: DayReading, day: TapeDay): DayReading => ({
    ...reading,
    stop:
      reading.stop === null
        ? null
        : orNull(stops.findIndex((stop) => stopKey(stop) === stopKey(day.stops[reading.stop ?? -1]))),
    stint:
      reading.stint === null
        ? null
        : orNull(
            stints.findIndex(
              (stint) =>
                stint.start_at === day.stints[reading.stint ?? -1]?.start_at &&
                stint.presentation_id === day.stints[reading.stint ?? -1]?.presentation_id,
            ),
          ),
  })
  const own = mine.readings.filter((reading) => {
    const key = readingKey(reading, mine)
    return inTheirs.has(key) || !inBase.has(key)
  })
  const others = theirs.readings.filter((reading) => {
    const key = readingKey(reading, theirs)
    return !inBase.has(key) && !inMine.has(key)
  })
  return [...own.map((reading) => place(reading, mine)), ...others.map((reading) => place(reading, theirs))]
}

const orNull = (at: number): number | null => (at < 0 ? null : at)
