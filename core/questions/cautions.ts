import type { Answer } from "../../shared/answer.ts"
import type { FactorId } from "../../shared/factors.ts"
import type { Compared, LevelInfluence } from "./compared.ts"
import { collinear, fairnessCautions } from "./fairness.ts"
import { counted, estimateFigure, figure, listed, outcomeUnit } from "../../shared/figures.ts"
import { total, tripsTelling, type Group } from "./gather.ts"
import { measure, outcomeOf } from "./outcomes.ts"
import { perHour } from "../../shared/outcomes.ts"
import type { LengthType } from "../../shared/vocabulary.ts"
import { tripsToBeSure } from "../../shared/answer.ts"
import { rareDaysFrom, tripsToSay } from "./scale.ts"

type Caution = Answer["cautions"][number]

/** Stints at a level from which a lack of blank ones is suspicious; parts that count as carried or unclocked. Ours. */
const stintsWithoutBlank = 10
const carriedBy = 1 / 3
const unclockedPart = 0.1

/**
 * What could fool the reader, with its numbers, the most important first; then that other things are not held
 * alike, where they are not, and at the very end what to know of predicted water.
 */
export function cautionsOf(compared: Compared, influence: LevelInfluence | null): Caution[] {
  return [
    collinear(compared),
    blanksUnrecorded(compared),
    rowIsTrip(compared),
    oneTripCarries(compared, influence),
    thin(compared, "one_trip", 1, 1),
    thin(compared, "too_few_trips", 2, tripsToSay - 1),
    speciesUnknown(compared),
    ...fairnessCautions(compared),
    neverSameTrip(compared),
    rareDays(compared),
    thin(compared, "few_trips", tripsToSay, tripsToBeSure - 1),
    manyLevels(compared),
    noClock(compared),
    hangUpsOfAll(compared),
    lengthsLandedOnly(compared),
    lengthsOfTwoTypes(compared),
    rawOnly(compared),
    predictedTide([compared.by, ...compared.prepared.ask.where.map(({ factor }) => factor)]),
  ].filter((caution) => caution !== null)
}

const names = ({ nameOf }: Compared, groups: readonly Group[]): string =>
  listed(groups.map(({ label }) => nameOf(label)))

function blanksUnrecorded(compared: Compared): Caution | null {
  const { prepared, gathered } = compared
  const { facts, ask } = prepared
  if (!perHour(ask.outcome) || ask.outcome === "hang_up_rate") return null
  const caught = ask.outcome === "strike_rate" ? facts.strikes : facts.landed
  const noBlank = ({ rows }: Group) =>
    rows.length >= stintsWithoutBlank && rows.every((stint) => (caught[stint] ?? 0) > 0)
  const what = ask.outcome === "strike_rate" ? "a strike" : "a fish"
  const doubt = "if blank stints were not logged, the rates are too high"
  if (noBlank(gathered.all))
    return {
      code: "blanks_unrecorded",
      text: `None of the ${gathered.all.rows.length} stints is without ${what}: ${doubt}.`,
    }
  const levels = gathered.levels.filter(noBlank)
  if (levels.length === 0) return null
  const stints = levels.reduce((sum, { rows }) => sum + rows.length, 0)
  return {
    code: "blanks_unrecorded",
    text: `None of the ${stints} stints of ${names(compared, levels)} is without ${what}: ${doubt}.`,
  }
}

function rowIsTrip({ prepared, gathered }: Compared): Caution | null {
  const rows = gathered.all.rows.filter((stint) => prepared.facts.row_is_trip[stint] === 1).length
  if (rows === 0) return null
  return {
    code: "row_is_trip",
    text: `${rows} of ${counted(gathered.all.rows.length, "stint")} came from a table without trips, so each row was taken as a trip of its own: if some were fished on one day, the intervals are too narrow.`,
  }
}

function oneTripCarries(
  { prepared, gathered, estimates, reader, nameOf }: Compared,
  influence: LevelInfluence | null,
): Caution | null {
  if (influence === null || Math.abs(influence.change - 1) <= carriedBy) return null
  const level = gathered.levels.findIndex(({ label }) => label === influence.level)
  const whole = estimates[level]?.raw.estimate ?? null
  if (whole === null) return null
  const { outcome } = prepared.ask
  const of = (value: number) => estimateFigure(outcome, value, reader)
  const unit = outcomeOf(outcome).kind === "length" ? ` ${outcomeUnit(outcome, reader)}` : ""
  const goes = influence.change < 1 ? "falls" : "rises"
  return {
    code: "one_trip_carries",
    about: { trip: influence.trip, trip_id: influence.trip_id },
    text: `${influence.trip} carries ${nameOf(influence.level)}: without that trip it ${goes} from ${of(whole)} to ${of(whole * influence.change)}${unit}.`,
  }
}

/** Levels that tell something on so many trips only. */
function thin(compared: Compared, code: string, from: number, to: number): Caution | null {
  const levels = compared.gathered.levels.filter(
    (group) => tripsTelling(group) >= from && tripsTelling(group) <= to,
  )
  if (levels.length === 0) return null
  const listedLevels = listed(
    levels.map((group) => `${compared.nameOf(group.label)} (${counted(tripsTelling(group), "trip")})`),
  )
  const texts: Record<string, string> = {
    one_trip: `Fished on one trip only: ${names(compared, levels)}. One trip cannot show how much trips differ.`,
    too_few_trips: `Fished on two or three trips only: ${listedLevels}. Such intervals are very wide and say little.`,
    few_trips: `Fished on fewer than ${tripsToBeSure} trips: ${listedLevels}. How much trips differ is poorly known there.`,
  }
  return { code, text: texts[code] ?? "" }
}

function speciesUnknown({ prepared, selection, gathered }: Compared): Caution | null {
  if (prepared.ask.species.length === 0) return null
  const out = selection.leftOut.find(({ reason }) => reason === "species_unknown")
  if (out !== undefined)
    return {
      code: "species_unknown",
      text: `${counted(out.stints, "stint")} with a ${outcomeOf(prepared.ask.outcome).events === "strikes" ? "strike" : "fish"} of unknown species ${out.stints === 1 ? "is" : "are"} left out.`,
    }
  if (outcomeOf(prepared.ask.outcome).kind !== "share") return null
  const unnamed = gathered.all.rows.reduce((sum, stint) => sum + (prepared.measure.unnamed[stint] ?? 0), 0)
  if (unnamed === 0) return null
  return {
    code: "species_unknown",
    text: `${counted(unnamed, "strike")} of unknown species ${unnamed === 1 ? "is" : "are"} not counted.`,
  }
}

function neverSameTrip({ nameOf, gathered: { levels } }: Compared): Caution | null {
  const pairs = levels.flatMap((b, i) => levels.slice(i + 1).map((a) => ({ a, b })))
  const apart = pairs.filter(({ a, b }) => !a.fished.some((fished, g) => fished === 1 && b.fished[g] === 1))
  if (apart.length === 0) return null
  const which = listed(
    apart.map(({ a, b }) => `${nameOf(a.label)} with ${nameOf(b.label)}`),
    2,
  )
  const some = apart.length < pairs.length ? `${apart.length} of the ${pairs.length}` : `All ${pairs.length}`
  const many =
    pairs.length === 1
      ? "The two levels were"
      : `${some} pairs of levels ${apart.length === 1 ? "was" : "were"}`
  return {
    code: "never_same_trip",
    text: `${many} never fished in the same trip (${which}): a difference between them may be one between days.`,
  }
}

function rareDays({ prepared, estimator }: Compared): Caution | null {
  if (!perHour(prepared.ask.outcome) || estimator.deff === null || estimator.deff < rareDaysFrom) return null
  return {
    code: "rare_days",
    text: `Trips differ ${figure(estimator.deff)} times as much as lone ${outcomeOf(prepared.ask.outcome).events} would make them: rare great days may make the long-run rate higher than the intervals say.`,
  }
}

function manyLevels({ pairs, bases, headline }: Compared): Caution | null {
  const basis = headline?.lead.basis ?? "raw"
  const looked = pairs.filter((pair) => {
    const told = bases.of(basis, pair)
    return told.told && told.estimate.p !== null
  }).length
  if (looked < 3) return null
  return {
    code: "many_levels",
    text: `${looked} pairs were looked at, and by chance alone one in twenty seems to differ: q allows for that, p does not.`,
  }
}

function noClock({ prepared: { facts, ask }, gathered: { all } }: Compared): Caution | null {
  if (!perHour(ask.outcome)) return null
  const without = all.rows.reduce(
    (hours, stint) => hours + (facts.clocked[stint] === 1 ? 0 : (facts.rod_hours[stint] ?? 0)),
    0,
  )
  if (without < unclockedPart * all.rodHours) return null
  return {
    code: "no_clock",
    text: `${Math.round((100 * without) / all.rodHours)}% of the rod-hours were not measured by a clock; hours from memory are rounded.`,
  }
}

const hangUpsOfAll = ({ prepared: { ask } }: Compared): Caution | null =>
  ask.outcome === "hang_up_rate" && ask.species.length > 0
    ? { code: "no_species", text: "Hang-ups have no species: all of them are counted." }
    : null

function lengthsLandedOnly({ prepared, gathered: { all } }: Compared): Caution | null {
  const { facts, ask, species } = prepared
  if (ask.outcome !== "length_mm") return null
  const landed = measure(facts, "landed_rate", species).events
  const fish = all.rows.reduce((sum, stint) => sum + (landed[stint] ?? 0), 0)
  return {
    code: "lengths_landed_only",
    text: `Lengths are of landed fish that were measured, ${total(all.exposure)} of ${fish}; those lost or not measured may differ.`,
  }
}

/** Total and fork lengths are not to be averaged: common practice, no source. */
function lengthsOfTwoTypes({
  prepared: { facts, ask, species },
  gathered: { all },
}: Compared): Caution | null {
  if (ask.outcome !== "length_mm") return null
  const rows = new Set(all.rows)
  const { strike } = facts
  const measured = new Set(
    strike.species.filter(
      (_, k) => rows.has(strike.stint[k] ?? -1) && (strike.length_mm[k] ?? Number.NaN) > 0,
    ),
  )
  const named = (type: LengthType) =>
    facts.species.filter(
      (_, at) =>
        measured.has(at) && facts.length_types[at] === type && (species.length === 0 || species.includes(at)),
    )
  const [whole, forked] = [named("total"), named("fork")]
  if (whole.length === 0 || forked.length === 0) return null
  return {
    code: "two_length_types",
    text: `Lengths of ${listed(whole)} are total lengths, those of ${listed(forked)} fork lengths, and a mean over both is neither: ask about one species at a time.`,
  }
}

const rawOnly = ({ headline }: Compared): Caution | null =>
  headline !== null && headline.lead.basis !== "raw"
    ? null
    : {
        code: "raw_only",
        text: "As fished: season, light, tide, water and who fished are not held alike, so a difference may be theirs.",
      }

/**
 * What to know where stints are told apart by predicted tides or currents; null where none of the factors is one. Source:
 * National Ocean Service (CO-OPS), disclaimers of its predictions, in our own words; that height is no current: NOAA Tide
 * and Current Glossary, in our own words.
 */
export function predictedTide(by: readonly FactorId[]): Caution | null {
  const tide = by.some((factor) => factor.startsWith("tide_"))
  const current = by.some((factor) => factor.startsWith("current_"))
  if (!tide && !current) return null
  const what = tide ? (current ? "Tides and currents" : "Tides") : "Currents"
  const height = tide ? " Rise and fall are not current: the two turn at different times." : ""
  return {
    code: "predicted_tide",
    text: `${what} worked out here are predicted, not observed, and not for navigation: wind, air pressure, river water and surge move real water.${height}`,
  }
}
