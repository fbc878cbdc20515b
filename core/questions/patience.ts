import type { Facts } from "../facts.ts"
import type { Block } from "../stats/design/block.ts"
import { makeDesign, type Design } from "../stats/design/design.ts"
import { ContrastedFit, LEAST_DF } from "../stats/inference/adjustedContrast.ts"
import { clusterLevelColumns } from "../stats/inference/clusterLevel.ts"
import { jackknifedVariance } from "../stats/inference/clusterDeletion.ts"
import { likelihoodRatioF } from "../stats/inference/contrast.ts"
import { tCritical } from "../stats/confidence.ts"
import type { ClusteredRows } from "../stats/likelihood/rows.ts"
import { dot, quadraticForm, selectBlock } from "../stats/matrix/matrix.ts"
import { fitMixed } from "../stats/mixed/fitMixed.ts"
import { personPeriods } from "../stats/personPeriod.ts"
import { capital } from "../../shared/casing.ts"
import type { Patience } from "../../shared/patience.ts"
import { isOfTackle, type FactorId } from "../../shared/factors.ts"
import { counted, estimateFigure, levelNames, rangeText } from "../../shared/figures.ts"
import type { Ask } from "../../shared/questions.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import { predictedTide } from "./cautions.ts"
import { levelsOf, listedOrder } from "./levels.ts"
import { namesAsked, prepare, speciesText } from "./prepare.ts"
import { emptyLogbook, type Refusal } from "./refuse.ts"
import { spellsOf, type Spell } from "./spells.ts"

/** Minutes of an interval, and the dry minutes after which a chance is told. */
const interval = 15
const waits = [0, 15, 30, 45, 60]
const waitNames = waits.map((minutes, k) => (k + 1 < waits.length ? `${minutes}` : `${minutes} or more`))
/** Levels with fewer spells or strikes are left out of the model: they would tell nothing. Ours. */
const leastSpells = 5

/**
 * How long to give a spot: the chance that one rod has a first strike in the next quarter of an hour, after 0 to 60 minutes
 * without one, by one factor. Spells are visits to a spot, or for tackle stints with one presentation; one that ended dry is
 * only censored. A complementary log-log model of the quarters, waiting in five steps, the same for all levels (a step
 * without a strike goes with the one before). No intercept a trip: what a dry wait tells about the day is part of
 * the chance that is asked for. Intervals from the model or the delete-one-trip jackknife, the wider, t on trips. Sources: as
 * for personPeriods.
 */
export function patience(facts: Facts, ask: Ask, by: FactorId, reader: ReaderUnits): Patience {
  const unit = isOfTackle(by) ? "stint" : "stop"
  const empty = emptyLogbook(facts)
  if (empty !== null) return refused(by, namesAsked(ask), unit, empty, 0)
  const prepared = prepare(facts, { ...ask, outcome: "strike_rate" })
  const species = speciesText(prepared)
  const { spells, leftOut } = spellsOf(facts, prepared.asked, unit)
  const { labels, codes } = levelsOf(facts, by, ask.cuts)
  const known = spells.filter(({ stint }) => (codes[stint] ?? -1) >= 0)
  const told = labels.map((_, level) => known.filter(({ stint }) => codes[stint] === level))
  const hours = told.map((own) => own.reduce((sum, { minutes, rods }) => sum + (minutes * rods) / 60, 0))
  const order = listedOrder(by, labels, hours).filter((level) => {
    const own = told[level] ?? []
    return own.length >= leastSpells && own.some(({ first }) => !Number.isNaN(first))
  })
  const used = order.flatMap((level) =>
    (told[level] ?? []).map((spell) => ({ ...spell, at: order.indexOf(level) })),
  )
  const none = (text: string) => refused(by, species, unit, { code: "nothing_left", text }, leftOut)
  if (order.length === 0)
    return none(
      `No level has ${leastSpells} ${unit === "stop" ? "visits" : "stints"} by the clock and a first strike with a time${leftOut === 0 ? "" : `; ${leftOut} are on trips with strikes without a time`}.`,
    )
  const fitted = fitHazard(
    used,
    order.map((level) => labels[level] ?? ""),
  )
  if (fitted === null)
    return none("There are too few trips, or too few strikes with a time, for a chance that means anything.")
  const names = levelNames(
    by,
    order.map((level) => labels[level] ?? ""),
    reader,
  )
  const levels = order.map((level, at) => {
    const own = used.filter((spell) => spell.at === at)
    return {
      level: labels[level] ?? "",
      spells: own.length,
      with_strike: own.filter(({ first }) => !Number.isNaN(first)).length,
      after: waits.flatMap((minutes, wait) => {
        const lasted = own.filter((spell) => dryFor(spell) > minutes).length
        return lasted === 0 ? [] : { minutes, spells: lasted, ...fitted.chance(at, wait) }
      }),
    }
  })
  const tide = predictedTide([by])
  return {
    question: "patience",
    by,
    species,
    refused: null,
    trips: new Set(used.map(({ trip }) => trip)).size,
    unit,
    spells: used.length,
    with_strike: used.filter(({ first }) => !Number.isNaN(first)).length,
    left_out: leftOut,
    levels,
    waiting: { p: fitted.waiting },
    cautions: [
      {
        code: "stayed_or_left",
        text: "Spots that look dead are left early: the chance after a long wait is that of the spots where one chose to wait.",
      },
      ...(leftOut > 0
        ? [
            {
              code: "no_strike_time",
              text: `${counted(leftOut, unit === "stop" ? "visit" : "stint")} ${leftOut === 1 ? "is" : "are"} left out, on trips on which some strike has no time.`,
            },
          ]
        : []),
      ...(tide === null ? [] : [tide]),
    ],
    sentence: sentenceOf(levels, names, fitted.waiting, reader),
  }
}

function refused(
  by: FactorId,
  species: string | null,
  unit: Patience["unit"],
  refusal: Refusal,
  leftOut: number,
): Patience {
  return {
    question: "patience",
    by,
    species,
    refused: refusal,
    trips: 0,
    unit,
    spells: 0,
    with_strike: 0,
    left_out: leftOut,
    levels: [],
    waiting: { p: null },
    cautions: [],
    sentence: refusal.text,
  }
}

const dryFor = ({ first, minutes }: Spell): number => (Number.isNaN(first) ? minutes : first)

type Hazard = {
  readonly chance: (level: number, wait: number) => { estimate: number; low: number; high: number }
  readonly waiting: number | null
}

function fitHazard(spells: readonly (Spell & { at: number })[], labels: readonly string[]): Hazard | null {
  const periods = personPeriods(
    {
      duration: Float64Array.from(spells, ({ minutes }) => minutes),
      firstEvent: Float64Array.from(spells, ({ first }) => first),
      units: Float64Array.from(spells, ({ rods }) => rods),
    },
    interval,
  )
  const wait = periods.begins.map((begins) => Math.min(waits.length - 1, Math.floor(begins / interval)))
  const present = waits.flatMap((_, k) =>
    wait.some((own, i) => own === k && periods.event[i] === 1) ? [k] : [],
  )
  const place = wait.map((k) => Math.max(0, present.filter((own) => own <= k).length - 1))
  const level = Float64Array.from(periods.spell, (s) => spells[s]?.at ?? 0)
  const trips = [...new Set(spells.map(({ trip }) => trip))]
  const cluster = Int32Array.from(periods.spell, (s) => trips.indexOf(spells[s]?.trip ?? -1))
  const covariates = {
    rows: level.length,
    values: new Map([
      ["level", level],
      ["wait", place],
    ]),
  }
  const levelBlock: Block = { kind: "categorical", covariate: "level", levels: labels, reference: 0 }
  const waitBlock: Block = {
    kind: "categorical",
    covariate: "wait",
    levels: present.map((k) => waitNames[k] ?? ""),
    reference: 0,
  }
  const several = labels.length > 1 ? [levelBlock] : []
  const rowsFor = (design: Design): ClusteredRows => ({
    x: design.x,
    y: periods.event,
    offset: periods.exposure.map((minutes) => Math.log(minutes / 60)),
    cluster,
    clusters: trips.length,
  })
  const design = makeDesign(present.length > 1 ? [...several, waitBlock] : several, covariates)
  const rows = rowsFor(design)
  const fit = fitMixed(rows, "binomial cloglog", { sd: 0 })
  const df = trips.length - clusterLevelColumns(design.x, cluster, trips.length).length
  if (fit.kind === "separated" || fit.kind === "not fitted" || fit.covariance === null || df < LEAST_DF)
    return null
  const without = fitMixed(rowsFor(makeDesign(several, covariates)), "binomial cloglog", { sd: 0 })
  const contrasted = new ContrastedFit(rows, fit, df)
  const changes = contrasted.oneStep()
  const { coefficients, covariance } = fit
  const p = coefficients.length
  const columns = present.length - 1
  return {
    waiting:
      columns < 1 || without.kind === "separated" || without.kind === "not fitted"
        ? null
        : likelihoodRatioF(fit.logLik, without.logLik, columns, df).p,
    chance: (at, k) => {
      const l = new Float64Array(p)
      const set = (name: string) => {
        const j = design.names.indexOf(name)
        if (j >= 0) l[j] = 1
      }
      set("intercept")
      set(`level ${labels[at]}`)
      const own = Math.max(0, present.filter((one) => one <= k).length - 1)
      set(`wait ${waitBlock.levels[own]}`)
      const eta = dot(l, coefficients)
      const model = quadraticForm(l, selectBlock(covariance, p))
      const jackknife = changes === null ? 0 : jackknifedVariance(l, changes, contrasted.clusters)
      const reach = tCritical(df) * Math.sqrt(Math.max(model, jackknife))
      const chance = (log: number) => -Math.expm1(-Math.exp(log) * (interval / 60))
      return { estimate: chance(eta), low: chance(eta - reach), high: chance(eta + reach) }
    },
  }
}

function sentenceOf(
  levels: Patience["levels"],
  nameOf: (level: string) => string,
  waiting: number | null,
  reader: ReaderUnits,
): string {
  const most = levels.toSorted((a, b) => b.spells - a.spells)[0]
  const first = most?.after[0]
  const later = most?.after.find(({ minutes }) => minutes === 30)
  if (most === undefined || first === undefined) return ""
  const of = (value: number) => estimateFigure("any_fish", value, reader)
  const told = ({ estimate, low, high }: typeof first) => `${of(estimate ?? 0)} (${rangeText(low, high, of)})`
  const changes =
    waiting === null
      ? ""
      : waiting <= 0.05
        ? " Waiting itself changes the chance."
        : " No sign that waiting itself changes the chance."
  const half = later === undefined ? "" : `; after 30 dry minutes ${told(later)}`
  return `${capital(nameOf(most.level))}: one rod has a first strike in the first quarter of an hour with a chance of ${told(first)}${half}.${changes}`
}
