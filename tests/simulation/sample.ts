import { makeSample } from "../../core/demo/sample.ts"
import type { Unconfounded } from "../../core/demo/truth.ts"
import { estimatorFor } from "../../core/questions/estimate.ts"
import { outcomeOf } from "../../core/questions/outcomes.ts"
import { groupBy, prepare } from "../../core/questions/prepare.ts"
import type { FactorId } from "../../shared/factors.ts"
import { factsOfSample, isSampleFactor, stintsAround } from "../unit/demo/factsOfSample.ts"
import { standInSky } from "../unit/demo/standInSky.ts"
import { askOf } from "../unit/questions/factsOf.ts"

/** How often the raw interval of one level held the truth. */
export type LevelCoverage = {
  readonly question: string
  readonly level: string
  /** Long-run value: what the planted truth gives over all logbooks, by what it took. */
  readonly truth: number
  /** Part of the logbooks with this level in which the interval held it, and how many logbooks those are. */
  readonly covered: number
  readonly logbooks: number
}

type Seen = { events: number; exposure: number; intervals: { low: number; high: number }[] }

/**
 * The raw intervals of an answer, without its wording, for every question without planted confounding, on so many sample
 * logbooks: seeds 1, 2 and so on.
 */
export function sampleCoverage(logbooks: number): LevelCoverage[] {
  const seen = new Map<string, Map<string, Seen>>()
  for (let seed = 1; seed <= logbooks; seed++) addLogbook(seed, seen)
  return [...seen].flatMap(([question, levels]) =>
    [...levels].map(([level, { events, exposure, intervals }]) => {
      const truth = events / exposure
      const held = intervals.filter(({ low, high }) => low <= truth && truth <= high).length
      return { question, level, truth, covered: held / intervals.length, logbooks: intervals.length }
    }),
  )
}

const questionName = ({ outcome, by, where }: Unconfounded): string =>
  [outcome, "by", by, ...where.map(({ level }) => `(${level})`)].join(" ")

function addLogbook(seed: number, seen: Map<string, Map<string, Seen>>): void {
  const sample = makeSample({ seed, seasons: 3 }, standInSky)
  const { unconfounded, stints } = sample.truth
  const needed: FactorId[] = unconfounded.flatMap(({ by, where }) => [
    by,
    ...where.map(({ factor }) => factor),
  ])
  const facts = factsOfSample(sample, [...new Set(needed)].filter(isSampleFactor))
  const truthByStint = new Map(stints.map((truth) => [truth.stint, truth]))
  const truthAt = stintsAround(sample).map(({ stint }) => truthByStint.get(stint.key))
  for (const question of unconfounded) {
    const { outcome, by, where } = question
    const prepared = prepare(facts, askOf({ outcome, by, where: [...where] }))
    const { gathered } = groupBy(prepared, by)
    const estimator = estimatorFor(outcomeOf(outcome).kind, facts, prepared.measure, gathered)
    const levels = seen.get(questionName(question)) ?? new Map<string, Seen>()
    seen.set(questionName(question), levels)
    for (const group of gathered.levels) {
      const entry = levels.get(group.label) ?? { events: 0, exposure: 0, intervals: [] }
      levels.set(group.label, entry)
      for (const row of group.rows) addTruth(entry, question, truthAt[row])
      const { estimate, low, high } = estimator.level(group).raw
      if (estimate !== null) entry.intervals.push({ low: low ?? 0, high: high ?? Number.POSITIVE_INFINITY })
    }
  }
}

type StintTruth = ReturnType<typeof makeSample>["truth"]["stints"][number]

const sum = (bySpecies: Readonly<Record<string, number>>): number =>
  Object.values(bySpecies).reduce((total, value) => total + value, 0)

/** What the planted truth expects of a stint on its trip, and what it is out of. */
function addTruth(entry: Seen, { outcome }: Unconfounded, stint: StintTruth | undefined): void {
  if (stint === undefined) throw new Error("every stint has its truth")
  const effect = stint.trip_effect
  const strikes = effect * sum(stint.strikes)
  const hookUps = effect * sum(stint.hook_ups)
  const landed = effect * sum(stint.landed)
  const rows: Partial<Record<Unconfounded["outcome"], readonly [number, number]>> = {
    landed_rate: [landed, stint.rod_hours],
    strike_rate: [strikes, stint.rod_hours],
    hook_up_share: [hookUps, strikes],
    landing_share: [landed, hookUps],
    hang_up_rate: [stint.hang_ups, stint.rod_hours],
  }
  const [events, exposure] = rows[outcome] ?? [Number.NaN, Number.NaN]
  entry.events += events
  entry.exposure += exposure
}
