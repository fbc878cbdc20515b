import type { Facts } from "../facts.ts"

/** Time spent waiting for a first strike: a visit to a spot, or a stint. */
export type Spell = {
  /** The stint, or the visit's first one, which says where, when and with what. */
  readonly stint: number
  readonly trip: number
  readonly minutes: number
  /** Minutes until the first strike; NaN where none came. */
  readonly first: number
  readonly rods: number
}

/**
 * Spells of stints that have a clock, whose strikes were counted. Trips on which a strike has no time are left out whole, and
 * their spells counted: leaving out only what had strikes would make the water look dead.
 */
export function spellsOf(
  facts: Facts,
  stints: readonly number[],
  unit: "stop" | "stint",
): { readonly spells: readonly Spell[]; readonly leftOut: number } {
  const times = new Map<number, number[]>()
  facts.strike.stint.forEach((stint, k) => {
    times.set(stint, [...(times.get(stint) ?? []), facts.strike.at[k] ?? Number.NaN])
  })
  const untimed = new Set<number>()
  facts.strike.stint.forEach((stint, k) => {
    if (Number.isNaN(facts.strike.at[k] ?? Number.NaN)) untimed.add(facts.trip[stint] ?? -1)
  })
  const groups = Map.groupBy(stints, (stint) => (unit === "stop" ? (facts.stop[stint] ?? -1) : stint))
  const spells: Spell[] = []
  let leftOut = 0
  for (const own of groups.values()) {
    const clocked = own.every(
      (stint) =>
        (facts.end[stint] ?? Number.NaN) > (facts.start[stint] ?? Number.NaN) &&
        !Number.isNaN(facts.strikes[stint] ?? Number.NaN) &&
        facts.same_stop[stint] === 1,
    )
    const ordered = own.toSorted((a, b) => (facts.start[a] ?? 0) - (facts.start[b] ?? 0))
    const [stint] = ordered
    if (!clocked || stint === undefined) continue
    const begin = facts.start[stint] ?? Number.NaN
    const end = Math.max(...own.map((one) => facts.end[one] ?? Number.NaN))
    const at = own.flatMap((one) => times.get(one) ?? [])
    if (untimed.has(facts.trip[stint] ?? -1)) {
      leftOut++
      continue
    }
    const minutes = (end - begin) / 60_000
    const first = at.length === 0 ? Number.NaN : (Math.min(...at) - begin) / 60_000
    if (first < 0 || first > minutes) {
      leftOut++
      continue
    }
    const hours = own.reduce((sum, one) => sum + (facts.rod_hours[one] ?? 0), 0)
    spells.push({
      stint,
      trip: facts.trip[stint] ?? -1,
      minutes,
      first,
      rods: Math.max(1, Math.round((hours * 60) / minutes)),
    })
  }
  return { spells, leftOut }
}
