import type { Fate } from "../../shared/vocabulary.ts"
import { normal, type Random } from "../stats/random.ts"
import { between, chance, pick, waitingTime } from "./draw.ts"
import { planted } from "./planted.ts"
import { allSpecies, type Group, groups, shareInGroup, type Species } from "./scenario.ts"
import { strikeRates, sumOf, type Cast, type Water } from "./strikeRates.ts"

/** One strike as it happened. `minute` from the start of the stint's fishing. */
export type TrueStrike = {
  readonly minute: number
  readonly species: Species
  readonly fate: Extract<Fate, "missed" | "lost" | "bitten off" | "landed">
  readonly length_mm: number
}

/** When a stint is to end at the latest, and how long it may stay dry. */
export type Patience = { readonly most: number; readonly dry: number }

/** What came of fishing one presentation. Times in minutes of fishing. */
export type Fished = {
  readonly minutes: number
  readonly strikes: readonly TrueStrike[]
  readonly hangUps: number
  readonly luresLost: number
  readonly ended: "time" | "dry" | "lure lost"
  readonly expected: Expected
}

/** What the planted truth gives on a trip of average effect, by species. Hang-ups follow no trip effect. */
export type Expected = {
  readonly strikes: Readonly<Record<string, number>>
  readonly hook_ups: Readonly<Record<string, number>>
  readonly landed: Readonly<Record<string, number>>
  readonly hang_ups: number
}

/** A lure lost this early is tied on again. */
const shortest = 10

/**
 * Fishes until the time is up, nothing has bitten for too long, or the lure is lost. Strikes and hang-ups are Poisson
 * processes; the end depends on what came before it only, so that expected events are rate x minutes fished.
 */
export function fish(random: Random, water: Water, cast: Cast, effect: number, patience: Patience): Fished {
  const rods = cast.anglers.length
  const rates = strikeRates(water, cast)
  const perMinute = (sumOf(rates) * effect * rods) / 60
  const hangUpRate = planted.hangUpsPerRodHour[cast.presentation.className][water.spot.ground]
  const hangPerMinute = (hangUpRate * rods) / 60
  const strikes: TrueStrike[] = []
  let [hangUps, luresLost, lastBite] = [0, 0, 0]
  let lostAt = Number.POSITIVE_INFINITY
  let strikeAt = waitingTime(random, perMinute)
  let hangAt = waitingTime(random, hangPerMinute)
  for (;;) {
    const dryAt = Math.ceil(lastBite) + patience.dry
    const minutes = Math.min(patience.most, dryAt, lostAt)
    if (Math.min(strikeAt, hangAt) >= minutes) {
      const ended = minutes === lostAt ? "lure lost" : minutes === patience.most ? "time" : "dry"
      const expected = expectedOf(rates, water, cast, (minutes / 60) * rods)
      return { minutes, strikes, hangUps, luresLost, ended, expected }
    }
    if (strikeAt < hangAt) {
      strikes.push(strikeOf(random, strikeAt, rates, water, cast))
      lastBite = strikeAt
      strikeAt += waitingTime(random, perMinute)
    } else {
      hangUps += 1
      if (chance(random, planted.lureLostPerHangUp[water.spot.ground])) {
        luresLost += 1
        if (hangAt >= shortest) lostAt = Math.min(lostAt, Math.ceil(hangAt))
      }
      hangAt += waitingTime(random, hangPerMinute)
    }
  }
}

function strikeOf(
  random: Random,
  minute: number,
  rates: Readonly<Record<Group, number>>,
  water: Water,
  cast: Cast,
): TrueStrike {
  const { className } = cast.presentation
  const group = pick(random, groups, (name) => rates[name])
  const species = pick(random, allSpecies, (kind) =>
    kind.group === group ? (shareInGroup.get(kind) ?? 0) : 0,
  )
  const hooked = chance(random, planted.hookedPerStrike[className])
  const landed = chance(random, planted.landedPerHooked[className])
  const bitten = chance(random, planted.bittenOff)
  const fate = !hooked ? "missed" : landed ? "landed" : bitten ? "bitten off" : "lost"
  return { minute, species, fate, length_mm: lengthOf(random, group, water) }
}

function lengthOf(random: Random, group: Group, { season, spot }: Water): number {
  const grown = planted.grownRedDrum
  if (group === "red drum" && season === grown.season && spot.structure === grown.structure) {
    const [low, high] = grown.lengthCm
    if (chance(random, grown.share)) return 10 * between(random, low, high)
  }
  const [mean, sd] = planted.lengthCm[group]
  return 10 * (mean + sd * Math.max(-2.5, Math.min(2.5, normal(random))))
}

function expectedOf(
  rates: Readonly<Record<Group, number>>,
  { spot }: Water,
  { presentation: { className } }: Cast,
  rodHours: number,
): Expected {
  const times = (share: number): Record<string, number> =>
    Object.fromEntries(
      allSpecies.map((species) => [
        species.name,
        rates[species.group] * (shareInGroup.get(species) ?? 0) * rodHours * share,
      ]),
    )
  const hooked = planted.hookedPerStrike[className]
  return {
    strikes: times(1),
    hook_ups: times(hooked),
    landed: times(hooked * planted.landedPerHooked[className]),
    hang_ups: planted.hangUpsPerRodHour[className][spot.ground] * rodHours,
  }
}
