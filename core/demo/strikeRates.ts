import { tideParts } from "../../shared/vocabulary.ts"
import { planted, type Season } from "./planted.ts"
import type { DayWater } from "./water.ts"
import { type Angler, type Group, groups, type Spot } from "./scenario.ts"
import type { Sky } from "./sky.ts"
import type { Presentation } from "./presentations.ts"

/** Everything the fish go by, but for the trip's own effect. */
export type Water = {
  readonly season: Season
  readonly target: Group
  readonly spot: Spot
  readonly sky: Sky
  readonly visibility: DayWater["visibility"]
  readonly water_temp_c: number
}

/** One or more rods with one presentation. */
export type Cast = {
  readonly presentation: Presentation
  readonly pause_s: number | null
  readonly anglers: readonly Angler[]
  readonly firstAtStop: boolean
}

/** Strikes per rod-hour of each group on a trip of average effect. */
export function strikeRates(water: Water, cast: Cast): Record<Group, number> {
  const all =
    planted.strikesByClass[cast.presentation.className] *
    planted.strikesByLight[water.sky.light] *
    planted.strikesByVisibility[water.visibility] *
    skillOf(cast.anglers) *
    planted.strikesByTurn[cast.firstAtStop ? "first" : "later"] *
    pauseMultiplier(cast.pause_s, water.water_temp_c)
  const rate = (group: Group): number => all * groupRate(group, water)
  return {
    "spotted seatrout": rate("spotted seatrout"),
    "red drum": rate("red drum"),
    "southern flounder": rate("southern flounder"),
    others: rate("others"),
  }
}

/** What the multipliers stand on: strikes per rod-hour that make the stated fish landed, all classes being jigs. */
function groupRate(group: Group, { season, target, spot, sky }: Water): number {
  const jig = "soft plastic on a jig head"
  const landedPerStrike = planted.hookedPerStrike[jig] * planted.landedPerHooked[jig]
  const part = tideParts.findIndex((name) => name === sky.tide_part)
  return (
    ((planted.landedPerRodHour[group][season] * planted.scale[group]) / landedPerStrike) *
    (group === target ? 1 : planted.whenNotSought[group]) *
    (planted.strikesByTide[group][part] ?? 1) *
    planted.strikesByStructure[group][spot.structure]
  )
}

const skillOf = (anglers: readonly Angler[]): number =>
  anglers.reduce((sum, { skill }) => sum + skill, 0) / anglers.length

function pauseMultiplier(pause: number | null, waterTempC: number): number {
  if (pause === null) return 1
  const { slope, pause_s, water_temp_c } = planted.pauseInColdWater
  return Math.exp((slope * Math.log(pause / pause_s) * (water_temp_c - waterTempC)) / 6)
}

export const sumOf = (rates: Readonly<Record<Group, number>>): number =>
  groups.reduce((sum, group) => sum + rates[group], 0)
