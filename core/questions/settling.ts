import { clustersNeeded } from "../stats/planning/clustersNeeded.ts"
import { requiredError } from "../stats/planning/hoursNeeded.ts"
import { tCritical } from "../stats/confidence.ts"
import { fitMixed } from "../stats/mixed/fitMixed.ts"
import { fromColumns } from "../stats/matrix/matrix.ts"
import type { Answer, designs } from "../../shared/answer.ts"
import { counted, hoursFigure, ratioFigure } from "../../shared/figures.ts"
import type { Compared, Headline } from "./compared.ts"
import type { RatioEstimate } from "./estimate.ts"
import { hoursNeeded } from "./needed.ts"
import { outcomeOf } from "./outcomes.ts"
import { total } from "./gather.ts"

type Design = (typeof designs)[number]
type Settling = NonNullable<Answer["settle"]>

/** Fewer events of the two levels, or trips (stops) with two stints or more, show no spread. Ours. */
const eventsForSpread = 10
const clustersForSpread = 8

const designWords: Record<Design, string> = {
  same_stop: "both at the same stop, one after the other",
  same_trip: "both on every trip",
  as_now: "fished as until now",
}

/**
 * How many more rod-hours and trips would settle a difference worth having (`ask.worth`) between the two levels that lead, by each
 * way of fishing them: as until now (see hoursNeeded), both on every trip, both at every stop. For the latter two each trip, as
 * long and with as many stints as now, is split evenly, and adds 1/V to what the interval in hand is worth, V the variance of a log
 * ratio within a trip or stop: 2/(r h) + 2 exp(sd^2)/(theta k), rate r, h hours and k stints of either a trip, sd and theta the
 * spread found between trips (or stops) and between stints within them. Rates only, and not where only as fished is asked for, which
 * is to come at once. Source: clustersNeeded; that the interval in
 * hand counts is ours.
 */
export function settling({ prepared }: Compared, headline: Headline): Settling | null {
  const { ask } = prepared
  const asNow = hoursNeeded(headline, ask.worth)
  const planned =
    outcomeOf(ask.outcome).kind !== "rate" || ask.basis === "raw" || asNow?.rod_hours === 0
      ? []
      : (["same_trip", "same_stop"] as const).flatMap((design) => within(prepared, headline, design))
  const found: Settling["designs"] = [
    ...planned,
    ...(asNow === null
      ? []
      : [{ design: "as_now" as const, rod_hours: asNow.rod_hours, trips: asNow.trips }]),
  ].toSorted((x, y) => x.rod_hours - y.rod_hours)
  return found.length === 0 ? null : { designs: found, sentence: sentenceOf(found, ask.worth) }
}

function within(
  { facts, measure, ask }: Compared["prepared"],
  { pair, told }: Headline,
  design: "same_trip" | "same_stop",
): Settling["designs"] {
  const rows = [pair.a, pair.b].flatMap((group) => group.rows.map((stint) => ({ stint, of: group })))
  const used = rows.filter(({ stint }) => (measure.exposure[stint] ?? 0) > 0)
  const events = total(pair.a.events) + total(pair.b.events)
  const hours = total(pair.a.exposure) + total(pair.b.exposure)
  const trips = new Set(used.map(({ stint }) => facts.trip[stint])).size
  if (events < eventsForSpread) return []
  const spread = spreadOf(
    used.flatMap(({ stint, of }) =>
      design === "same_stop" && facts.same_stop[stint] !== 1
        ? []
        : {
            y: measure.events[stint] ?? 0,
            h: measure.exposure[stint] ?? 0,
            later: of === pair.a ? 1 : 0,
            cluster: (design === "same_trip" ? facts.trip[stint] : facts.stop[stint]) ?? -1,
          },
    ),
  )
  if (spread === null) return []
  const [exposure, units] = [hours / trips / 2, Math.max(1, used.length / trips / 2)]
  const { variance } = clustersNeeded({
    rate: events / hours,
    ratio: ask.worth,
    exposure,
    units,
    ...spread,
    basis: "within",
  })
  const inHand = told.told ? precision(told.estimate) : 0
  const more = Math.ceil(Math.max(0, requiredError(ask.worth) ** -2 - inHand) * variance)
  return [{ design, rod_hours: more * 2 * exposure, trips: more }]
}

/** One over the squared standard error of a log ratio; 0 where an end is missing. */
function precision({ low, high, df }: RatioEstimate): number {
  if (low === null || high === null || df === null || df < 1 || !(low > 0)) return 0
  return (Math.log(high / low) / (2 * tCritical(df))) ** -2
}

/** Spread between clusters and theta within them, by a negative binomial model that tells the two levels apart; null without one. */
function spreadOf(
  rows: readonly { y: number; h: number; later: number; cluster: number }[],
): { sd: number; theta: number } | null {
  const sizes = Map.groupBy(rows, ({ cluster }) => cluster)
  const several = [...sizes.values()].filter((own) => own.length > 1).length
  if (several < clustersForSpread) return null
  const numbers = new Map([...sizes.keys()].map((cluster, at) => [cluster, at]))
  const fit = fitMixed(
    {
      x: fromColumns(
        [new Float64Array(rows.length).fill(1), Float64Array.from(rows, ({ later }) => later)],
        rows.length,
      ),
      y: Float64Array.from(rows, ({ y }) => y),
      offset: Float64Array.from(rows, ({ h }) => Math.log(h)),
      cluster: Int32Array.from(rows, ({ cluster }) => numbers.get(cluster) ?? 0),
      clusters: numbers.size,
    },
    "negative binomial",
    { nodes: 1, covariance: false },
  )
  return fit.kind === "separated" || fit.kind === "not fitted"
    ? null
    : { sd: fit.sd, theta: fit.dispersion ?? Number.POSITIVE_INFINITY }
}

function sentenceOf(found: Settling["designs"], worth: number): string {
  const [first, ...rest] = found
  if (first === undefined) return ""
  if (first.rod_hours === 0) return `Enough was fished to tell a difference of ${ratioFigure(worth)} times.`
  const amount = ({ rod_hours, trips }: Settling["designs"][number]) =>
    `${hoursFigure(rod_hours)} more rod-hours, ${counted(trips, "trip")}`
  const others = rest.map(
    (one) => `${designWords[one.design]} ${hoursFigure(one.rod_hours)} (${counted(one.trips, "trip")})`,
  )
  const then = others.length === 0 ? "" : `; ${others.join(", ")}`
  return `To tell a difference of ${ratioFigure(worth)} times from none in four of five cases, ${found.length > 1 ? "fastest " : ""}${designWords[first.design]}: about ${amount(first)}${then}.`
}
