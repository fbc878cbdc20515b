import type { Facts } from "../facts.ts"
import { clusterRate, designEffect } from "../stats/clusterRate.ts"
import { clusterRatio } from "../stats/clusterRatio.ts"
import { clusterShare, shareDesignEffect } from "../stats/clusterShare.ts"
import { capital } from "../../shared/casing.ts"
import type { Steps } from "../../shared/steps.ts"
import { factorOf, type FactorId } from "../../shared/factors.ts"
import { counted, estimateFigure, levelNames, rangeText, ratioFigure } from "../../shared/figures.ts"
import type { Ask } from "../../shared/questions.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import { together, total, tripsOf, type Gathered, type Group } from "./gather.ts"
import { predictedTide } from "./cautions.ts"
import { hookedFates, type Measure } from "./outcomes.ts"
import { gatherLevels, namesAsked, prepare, speciesText, type Prepared } from "./prepare.ts"
import { emptyLogbook, noStints, type Refusal } from "./refuse.ts"

type Ends = { estimate: number | null; low: number | null; high: number | null }
type Ratio = { ratio: number | null; low: number | null; high: number | null }
const nothing: Ends = { estimate: null, low: null, high: null }
const noRatio: Ratio = { ratio: null, low: null, high: null }
const steps = ["struck", "strikes", "hooked", "landed"] as const
/** The steps told of every stint used; whether looks were struck is told where follows were counted. */
type Step = Exclude<(typeof steps)[number], "struck">

const stepWords: Record<(typeof steps)[number], string> = {
  struck: "turns fewer of its looks (follows and strikes) into strikes",
  strikes: "draws fewer strikes per rod-hour",
  hooked: "hooks fewer of its strikes",
  landed: "lands fewer of its hooked fish",
}

/**
 * From look to landed by one factor: strikes per rod-hour, of the strikes those hooked, of the hooked those landed, with trips
 * as the sample, and each against all other levels together; only over stints in which every step was counted, on trips that
 * hold all of their effort. As fished: nothing else is held alike.
 */
export function fromLookToLanded(facts: Facts, ask: Ask, by: FactorId, reader: ReaderUnits): Steps {
  const empty = emptyLogbook(facts)
  if (empty !== null) return refused(by, namesAsked(ask), empty, 0)
  const prepared = prepare(facts, { ...ask, outcome: "strike_rate" })
  const species = speciesText(prepared)
  const usable = (stint: number) =>
    facts.complete[stint] === 1 &&
    (facts.rod_hours[stint] ?? 0) > 0 &&
    [facts.strikes, facts.hook_ups, facts.landed].every(
      (column) => !Number.isNaN(column[stint] ?? Number.NaN),
    )
  const kept = prepared.asked.filter(usable)
  const leftOut = prepared.asked.length - kept.length
  if (kept.length === 0)
    return refused(
      by,
      species,
      noStints("every step from strike to landed fish was counted", leftOut),
      leftOut,
    )
  const of = (step: Step) => gatherLevels(prepared, by, kept, measureOf(prepared, step))
  const [strikes, hooked, landed] = [of("strikes"), of("hooked"), of("landed")]
  if (strikes.levels.length === 0)
    return refused(by, species, noStints(`${factorOf(by).label.toLowerCase()} is known`, leftOut), leftOut)
  const seen = kept.filter((stint) => !Number.isNaN(facts.follows[stint] ?? Number.NaN))
  const follows = gatherLevels(prepared, by, seen, measureFrom(facts.follows, facts.rod_hours))
  const looks = facts.strikes.map((count, stint) => count + (facts.follows[stint] ?? Number.NaN))
  const struck =
    prepared.species.length > 0 ? null : gatherLevels(prepared, by, seen, measureFrom(facts.strikes, looks))
  const perHour = (step: "hooked" | "landed") =>
    gatherLevels(prepared, by, kept, measureFrom(measureOf(prepared, step).events, facts.rod_hours))
  const chain: Chain = {
    strikes,
    hooked,
    landed,
    follows,
    struck,
    hookedPerHour: perHour("hooked"),
    landedPerHour: perHour("landed"),
  }
  const levels = strikes.levels.map((group, i) => levelOf(group, i, chain))
  const nameOf = levelNames(
    by,
    levels.map(({ level }) => level),
    reader,
  )
  const tide = predictedTide([by, ...ask.where.map(({ factor }) => factor)])
  return {
    question: "steps",
    by,
    species,
    refused: null,
    trips: strikes.trips.length,
    stints: strikes.all.rows.length,
    left_out: prepared.asked.length - strikes.all.rows.length,
    levels,
    cautions: [
      {
        code: "steps_raw",
        text: "As fished: season, light and who fished are not held alike, so a loss at one step may be theirs. Ask for a share by itself to hold them alike.",
      },
      ...(levels.some(({ follows: seen }) => seen !== null)
        ? [
            {
              code: "follows_seen",
              text: "Follows are those that were seen: clear water shows more of them.",
            },
          ]
        : []),
      ...(tide === null ? [] : [tide]),
    ],
    sentence: sentenceOf(levels, nameOf, reader),
  }
}

function refused(by: FactorId, species: string | null, refusal: Refusal, leftOut: number): Steps {
  return {
    question: "steps",
    by,
    species,
    refused: refusal,
    trips: 0,
    stints: 0,
    left_out: leftOut,
    levels: [],
    cautions: [],
    sentence: refusal.text,
  }
}

/** Events and what they are out of: strikes over rod-hours, hooked over strikes, landed over hooked. */
function measureOf({ facts, species }: Prepared, step: Step): Measure {
  if (species.length === 0) {
    if (step === "strikes") return measureFrom(facts.strikes, facts.rod_hours)
    return step === "hooked"
      ? measureFrom(facts.hook_ups, facts.strikes)
      : measureFrom(facts.landed, facts.hook_ups)
  }
  const tally = (fates: readonly string[] | null) => {
    const counts = new Float64Array(facts.stints)
    facts.strike.fate.forEach((fate, k) => {
      const stint = facts.strike.stint[k] ?? 0
      const own = species.includes(facts.strike.species[k] ?? -1)
      if (own && (fates === null || fates.includes(fate))) counts[stint] = (counts[stint] ?? 0) + 1
    })
    return counts
  }
  if (step === "strikes") return measureFrom(tally(null), facts.rod_hours)
  return step === "hooked"
    ? measureFrom(tally([...hookedFates]), tally(null))
    : measureFrom(tally(["landed"]), tally([...hookedFates]))
}

function measureFrom(events: Float64Array, exposure: Float64Array): Measure {
  const none = new Float64Array(events.length)
  return {
    events,
    exposure,
    speciesUnknown: new Uint8Array(events.length),
    failures: none,
    failuresUnnamed: none,
    unnamed: none,
  }
}

const finite = (value: number | null): number | null =>
  value !== null && Number.isFinite(value) ? value : null

function rateOf(group: Group | undefined, { all }: Gathered): Ends {
  if (group === undefined) return nothing
  const found = clusterRate(group.events, group.exposure, designEffect(all.events, all.exposure))
  return found === null
    ? nothing
    : { estimate: found.estimate, low: finite(found.low), high: finite(found.high) }
}

function shareOf(group: Group | undefined, { all }: Gathered): Ends {
  if (group === undefined) return nothing
  const found = clusterShare(group.events, group.exposure, shareDesignEffect(all.events, all.exposure))
  return found === null ? nothing : { estimate: found.estimate, low: found.low, high: found.high }
}

function againstRest(group: Group | undefined, { all, levels, trips }: Gathered, share: boolean): Ratio {
  const others = levels.filter((other) => other !== group)
  if (group === undefined || others.length === 0) return noRatio
  const rest = together("rest", others, trips.length)
  const pooled = share ? shareDesignEffect(all.events, all.exposure) : designEffect(all.events, all.exposure)
  const { ratio, low, high } = clusterRatio(
    { ya: group.events, ha: group.exposure, yb: rest.events, hb: rest.exposure },
    pooled,
  )
  return { ratio: finite(ratio), low: finite(low), high: finite(high) }
}

/** The question's stints gathered by level for each step. */
type Chain = Readonly<Record<Step | "follows" | "hookedPerHour" | "landedPerHour", Gathered>> & {
  readonly struck: Gathered | null
}

function levelOf(group: Group, i: number, chain: Chain): Steps["levels"][number] {
  const { strikes, hooked, landed, follows, struck } = chain
  const labelled = (gathered: Gathered | null) => gathered?.levels.find(({ label }) => label === group.label)
  const seen = labelled(follows)
  const looked = labelled(struck)
  const told = struck !== null && looked !== undefined && total(looked.exposure) > 0
  const against = {
    struck: told ? againstRest(looked, struck, true) : null,
    strikes: againstRest(group, strikes, false),
    hooked: againstRest(hooked.levels[i], hooked, true),
    landed: againstRest(landed.levels[i], landed, true),
  }
  const clear = steps.filter((step) => (against[step]?.high ?? Number.POSITIVE_INFINITY) < 1)
  const worst = clear.toSorted((a, b) => (against[a]?.ratio ?? 1) - (against[b]?.ratio ?? 1))[0]
  return {
    level: group.label,
    trips: tripsOf(group),
    rod_hours: group.rodHours,
    follows: seen === undefined ? null : rateOf(seen, follows),
    struck: told ? shareOf(looked, struck) : null,
    strikes: rateOf(group, strikes),
    hooked: shareOf(hooked.levels[i], hooked),
    landed: shareOf(landed.levels[i], landed),
    per_hour: {
      hooked: rateOf(chain.hookedPerHour.levels[i], chain.hookedPerHour),
      landed: rateOf(chain.landedPerHour.levels[i], chain.landedPerHour),
    },
    counts: {
      follows: seen === undefined ? null : total(seen.events),
      strikes: total(group.events),
      hooked: total(hooked.levels[i]?.events ?? new Float64Array()),
      landed: total(landed.levels[i]?.events ?? new Float64Array()),
    },
    against_rest: against,
    loses_at: worst ?? null,
  }
}

function sentenceOf(levels: Steps["levels"], nameOf: (level: string) => string, reader: ReaderUnits): string {
  const losing = levels.filter(({ loses_at }) => loses_at !== null)
  const most = levels.toSorted((a, b) => b.rod_hours - a.rod_hours)[0]
  const share = (value: number | null) =>
    value === null ? "-" : estimateFigure("hook_up_share", value, reader)
  const first =
    most === undefined
      ? ""
      : `${nameOf(most.level)}: ${counted(most.counts.strikes, "strike")}, ${share(most.hooked.estimate)} hooked, ${share(most.landed.estimate)} of these landed.`
  if (losing.length === 0) return `No level clearly loses at any step against the rest. ${capital(first)}`
  const clauses = losing.slice(0, 3).map(({ level, loses_at, against_rest }) => {
    const step = loses_at ?? "strikes"
    const { ratio, low, high } = against_rest[step] ?? noRatio
    return `${nameOf(level)} ${stepWords[step]} than the rest, ${ratioFigure(ratio ?? 0)} times (${rangeText(low, high, ratioFigure)})`
  })
  return `${capital(clauses.join("; "))}. ${capital(first)}`
}
