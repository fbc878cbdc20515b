import { Temporal } from "temporal-polyfill"
import { ahead } from "./ahead.ts"
import { lastSeason, planTrips } from "./calendar.ts"
import { streamsOf } from "./draw.ts"
import { fishTrip, type TrueTrip } from "./outing.ts"
import { planted } from "./planted.ts"
import { recordTrip } from "./record.ts"
import type { SampleRows } from "./rows.ts"
import { allSpecies, anglers, spots, zone } from "./scenario.ts"
import type { SkyAt } from "./sky.ts"
import { atOnce, type Steps } from "./steps.ts"
import { lureClasses, lures } from "./lures.ts"
import { presentations } from "./presentations.ts"
import { retrieves, rigs } from "./rigs.ts"
import { traps, type Truth, truthOf, unconfounded } from "./truth.ts"
import { dailyWater } from "./water.ts"

/** A made-up logbook: the rows to store and the truth behind them. */
export type Sample = SampleRows & { readonly truth: Truth }

/**
 * Makes the sample logbook of a seed (a whole number): the `seasons` calendar years up to 2025 and a few days ahead. The
 * same seed and the same sky give the same logbook to the last value.
 */
export const makeSample = (wish: SampleWish, skyAt: SkyAt): Sample => atOnce(makingSample(wish, skyAt))

/** Which sample: the same seed and seasons give the same days to the last fish. */
export type SampleWish = { readonly seed: number; readonly seasons: number }

/** The same, a step a trip. */
export function* makingSample({ seed, seasons }: SampleWish, skyAt: SkyAt): Steps<Sample> {
  const stream = streamsOf(seed)
  const plans = planTrips(stream(), seasons)
  const days = Temporal.PlainDate.from({ year: lastSeason + 1, month: 1, day: 1 }).since({
    year: lastSeason - seasons + 1,
    month: 1,
    day: 1,
  }).days
  const water = [...dailyWater(stream(), days)]
  const [fishing, writing] = [stream(), stream()]
  const outings: TrueTrip[] = []
  for (const plan of plans) {
    const day = water[plan.day]
    if (day !== undefined) outings.push(fishTrip(fishing, plan, day, skyAt))
    yield
  }
  const recorded = outings.map((outing) => recordTrip(writing, outing))
  return {
    anglers,
    spots,
    species: allSpecies,
    lure_classes: lureClasses,
    lures,
    rigs,
    retrieves,
    presentations,
    trips: [...recorded.map(({ trip }) => trip), ...ahead.trips],
    trip_anglers: [...recorded.flatMap((rows) => rows.trip_anglers), ...ahead.trip_anglers],
    stops: [...recorded.flatMap((rows) => rows.stops), ...ahead.stops],
    stints: [...recorded.flatMap((rows) => rows.stints), ...ahead.stints],
    strikes: [...recorded.flatMap((rows) => rows.strikes), ...ahead.strikes],
    observations: recorded.flatMap((rows) => rows.observations),
    settings: [{ key: "home_zone", value: zone }],
    truth: {
      seed,
      planted,
      skill: Object.fromEntries(anglers.map(({ name, skill }) => [name, skill])),
      traps,
      unconfounded,
      stints: recorded.flatMap(({ written }, i) => {
        const plan = outings[i]?.plan
        return plan === undefined ? [] : written.map((stint) => truthOf(plan, stint))
      }),
    },
  }
}
