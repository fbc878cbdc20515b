import type { Facts } from "../facts.ts"
import type { Measure } from "./outcomes.ts"

/** The stints of one level, or of several together, with their totals by trip. */
export type Group = {
  readonly label: string
  /** Positions of the stints in the facts. */
  readonly rows: readonly number[]
  readonly rodHours: number
  /** Events and exposure of each trip, see `Measure`: one position a trip of the question, 0 where not fished on it. */
  readonly events: Float64Array
  readonly exposure: Float64Array
  /** 1 for each trip of the question with a stint here. */
  readonly fished: Uint8Array
}

/** What an answer is computed from: the trips of the question (positions in `facts.trips`), its levels, and all of it. */
export type Gathered = {
  readonly trips: readonly number[]
  readonly all: Group
  readonly levels: readonly Group[]
}

/** Sums events and exposure by level and trip. The question is made of the stints of `levels` and of no others. */
export function gather(
  facts: Facts,
  measure: Measure,
  levels: readonly { readonly label: string; readonly rows: readonly number[] }[],
): Gathered {
  const fished = new Uint8Array(facts.trips.length)
  for (const { rows } of levels) for (const stint of rows) fished[facts.trip[stint] ?? -1] = 1
  const trips = [...fished.keys()].filter((trip) => fished[trip] === 1)
  const position = new Int32Array(facts.trips.length)
  trips.forEach((trip, i) => (position[trip] = i))
  const groups = levels.map(({ label, rows }): Group => {
    const group = emptyGroup(label, rows, trips.length)
    let rodHours = 0
    for (const stint of rows) {
      const trip = position[facts.trip[stint] ?? -1] ?? 0
      group.fished[trip] = 1
      group.events[trip] = (group.events[trip] ?? 0) + (measure.events[stint] ?? 0)
      group.exposure[trip] = (group.exposure[trip] ?? 0) + (measure.exposure[stint] ?? 0)
      const hours = facts.rod_hours[stint] ?? Number.NaN
      if (!Number.isNaN(hours)) rodHours += hours
    }
    return { ...group, rodHours }
  })
  return { trips, all: together("all", groups, trips.length), levels: groups }
}

/** The stints of the question in the order of the facts. */
export function stintsOf({ all }: Gathered): number[] {
  const last = all.rows.reduce((most, stint) => Math.max(most, stint), -1)
  const asked = new Uint8Array(last + 1)
  for (const stint of all.rows) asked[stint] = 1
  const stints: number[] = []
  for (let stint = 0; stint <= last; stint++) if (asked[stint] === 1) stints.push(stint)
  return stints
}

/** Several levels taken as one. */
export function together(label: string, groups: readonly Group[], trips: number): Group {
  const joined = emptyGroup(
    label,
    groups.flatMap((group) => group.rows),
    trips,
  )
  for (const group of groups)
    for (let g = 0; g < trips; g++) {
      joined.events[g] = (joined.events[g] ?? 0) + (group.events[g] ?? 0)
      joined.exposure[g] = (joined.exposure[g] ?? 0) + (group.exposure[g] ?? 0)
      joined.fished[g] = Math.max(joined.fished[g] ?? 0, group.fished[g] ?? 0)
    }
  return { ...joined, rodHours: groups.reduce((hours, group) => hours + group.rodHours, 0) }
}

const emptyGroup = (label: string, rows: readonly number[], trips: number): Group => ({
  label,
  rows,
  rodHours: 0,
  events: new Float64Array(trips),
  exposure: new Float64Array(trips),
  fished: new Uint8Array(trips),
})

export const total = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0)

/** Trips on which the group was fished. */
export const tripsOf = (group: Group): number => group.fished.filter((fished) => fished === 1).length

/** Trips that tell something about the group: with hours, a strike to hook, a hook-up to land or a fish to measure. */
export const tripsTelling = (group: Group): number => group.exposure.filter((exposure) => exposure > 0).length
