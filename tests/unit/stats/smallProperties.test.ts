import fc from "fast-check"
import { expect, test } from "vitest"
import { calibrationTable } from "../../../core/stats/describe/calibrationTable.ts"
import { circularMean } from "../../../core/stats/describe/circular.ts"
import { effectiveSize } from "../../../core/stats/describe/effectiveSize.ts"
import { fitPowerLaw, predictPowerLaw } from "../../../core/stats/describe/powerLaw.ts"
import { brierScore, logLoss } from "../../../core/stats/describe/predictionScores.ts"
import { coinEvidence } from "../../../core/stats/evidence/coinEvidence.ts"
import { confidenceSequence, differenceSequence } from "../../../core/stats/evidence/confidenceSequence.ts"
import type { Pair } from "../../../core/stats/evidence/pairs.ts"
import { deleteOneCluster } from "../../../core/stats/jackknife.ts"
import { personPeriods } from "../../../core/stats/personPeriod.ts"
import { clustersNeeded } from "../../../core/stats/planning/clustersNeeded.ts"
import { knowledgeGradient } from "../../../core/stats/planning/knowledgeGradient.ts"
import { poissonInterval } from "../../../core/stats/poissonInterval.ts"
import { shrinkRates } from "../../../core/stats/shrinkage/rates.ts"
import { shrinkShares } from "../../../core/stats/shrinkage/shares.ts"
import { type Interval, clopperPearson, wilson } from "../../../core/stats/proportionInterval.ts"

const positive = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min: Math.log(min), max: Math.log(max), noNaN: true }).map(Math.exp)
const share = fc.double({ min: 0, max: 1, noNaN: true })
const count = fc.oneof(fc.nat(6), fc.nat(1_000_000))
const close = (got: number, wanted: number, rel = 1e-9): void => {
  expect(Math.abs(got - wanted)).toBeLessThanOrEqual(rel * Math.max(Math.abs(wanted), Math.abs(got)))
}

const intervals: readonly ((events: number, trials: number, tail: number) => Interval)[] = [
  clopperPearson,
  wilson,
  (events, trials, tail) => poissonInterval(events, trials, tail),
]

test("intervals hold the estimate and nest by level, for counts up to a million", () => {
  const tail = fc.double({ min: 1e-6, max: 0.2, noNaN: true })
  fc.assert(
    fc.property(fc.constantFrom(...intervals), count, count, tail, tail, (interval, x, more, t1, t2) => {
      const n = x + more + 1
      const wide = interval(x, n, Math.min(t1, t2))
      const narrow = interval(x, n, Math.max(t1, t2))
      const rounding = 1 + 1e-12
      expect(wide.low).toBeLessThanOrEqual(narrow.low * rounding)
      expect(narrow.low).toBeLessThanOrEqual((x / n) * rounding)
      expect(narrow.high * rounding).toBeGreaterThanOrEqual(x / n)
      expect(wide.high * rounding).toBeGreaterThanOrEqual(narrow.high)
    }),
  )
})

test("a share and its complement have mirrored intervals; a rate's interval scales with the unit of exposure", () => {
  fc.assert(
    fc.property(count, count, positive(1e-3, 1e3), (x, more, unit) => {
      const n = x + more + 1
      for (const interval of [clopperPearson, wilson]) {
        expect(interval(x, n).low).toBeCloseTo(1 - interval(n - x, n).high, 12)
      }
      const rate = poissonInterval(x, n)
      const scaled = poissonInterval(x, n * unit)
      close(scaled.low * unit, rate.low)
      close(scaled.high * unit, rate.high)
    }),
  )
})

test("evidence is finite, never falls below what completing can cost, and mirrors when the arms are swapped", () => {
  const block = fc.oneof(fc.nat(10), fc.constant(null), fc.constant(1_000_000))
  const pairs: fc.Arbitrary<Pair[]> = fc.array(fc.record({ a: block, b: block }), { maxLength: 60 })
  fc.assert(
    fc.property(pairs, (drawn) => {
      const got = coinEvidence(drawn)
      const mirrored = coinEvidence(drawn.map(({ a, b }) => ({ a: b, b: a })))
      let last = 1
      got.logEvidence.forEach((log, j) => {
        expect(Number.isFinite(log)).toBe(true)
        expect(Math.abs(log - (mirrored.logEvidence[j] ?? NaN))).toBeLessThan(1e-10)
        const p = got.anytimeP[j] ?? NaN
        expect(p).toBeGreaterThan(0)
        expect(p).toBeLessThanOrEqual(last)
        last = p
      })
      const { low, high } = differenceSequence(drawn)
      low.forEach((value, j) => {
        expect(value).toBeGreaterThanOrEqual(-1)
        expect(high[j]).toBeLessThanOrEqual(1)
      })
    }),
  )
})

test("finishing a block can only help: any count it could have had gives as much evidence or more", () => {
  const block = fc.nat(4)
  const pairs = fc.array(fc.record({ a: block, b: block }), { minLength: 1, maxLength: 40 })
  fc.assert(
    fc.property(pairs, fc.nat(), (whole, at) => {
      const broken: Pair[] = whole.map((pair, j) => (j === at % whole.length ? { ...pair, b: null } : pair))
      const end = whole.length - 1
      const least = coinEvidence(broken).logEvidence[end] ?? NaN
      expect(coinEvidence(whole).logEvidence[end]).toBeGreaterThanOrEqual(least - 1e-10)
    }),
  )
})

test("a confidence sequence's running interval only narrows, and mirrors with the sign", () => {
  const values = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { maxLength: 200 })
  fc.assert(
    fc.property(values, (drawn) => {
      const got = confidenceSequence(Float64Array.from(drawn))
      const mirrored = confidenceSequence(Float64Array.from(drawn, (value) => -value))
      got.runningLow.forEach((low, i) => {
        expect(low).toBeGreaterThanOrEqual(got.runningLow[i - 1] ?? -1)
        expect(got.runningHigh[i]).toBeLessThanOrEqual(got.runningHigh[i - 1] ?? 1)
        expect(Math.abs(low + (mirrored.runningHigh[i] ?? NaN))).toBeLessThan(1e-9)
      })
    }),
  )
})

test("knowledge is worth 0 or more, scales with the unit of the rate, and knows no order of the options", () => {
  const belief = fc.record({
    mean: fc.double({ min: -10, max: 10, noNaN: true }),
    sd: fc.oneof(fc.constant(0), positive(1e-3, 10)),
    noise: fc.oneof(fc.constant(0), positive(1e-3, 1e3)),
  })
  fc.assert(
    fc.property(fc.array(belief, { maxLength: 8 }), positive(1e-3, 1e3), (beliefs, unit) => {
      const got = knowledgeGradient(beliefs)
      const scaled = knowledgeGradient(
        beliefs.map(({ mean, sd, noise }) => ({ mean: mean * unit, sd: sd * unit, noise: noise * unit })),
      )
      const turned = knowledgeGradient(beliefs.toReversed()).toReversed()
      got.forEach((value, i) => {
        expect(value).toBeGreaterThanOrEqual(0)
        expect(turned[i]).toBe(value)
        expect(Math.abs((scaled[i] ?? NaN) / unit - value)).toBeLessThan(1e-9 + 1e-6 * value)
      })
    }),
  )
})

test("a plan asks for more clusters the nearer the ratio is to 1 and the greater the spread", () => {
  const plan = fc.record({
    rate: positive(0.01, 10),
    exposure: positive(1 / 60, 100),
    units: fc.integer({ min: 1, max: 20 }),
    theta: positive(0.05, 1e6),
    sd: fc.double({ min: 0, max: 2, noNaN: true }),
    basis: fc.constantFrom("raw" as const, "between" as const, "within" as const),
  })
  fc.assert(
    fc.property(plan, positive(1.05, 10), (given, ratio) => {
      const at = (change: object): number => clustersNeeded({ ...given, ratio, ...change }).clusters
      const clusters = at({})
      expect(clusters).toBeGreaterThan(0)
      expect(Number.isFinite(clusters)).toBe(true)
      expect(at({ ratio: Math.sqrt(ratio) })).toBeGreaterThan(clusters)
      expect(at({ sd: given.sd + 0.1 })).toBeGreaterThanOrEqual(clusters)
      expect(at({ theta: given.theta / 2 })).toBeGreaterThan(clusters)
      // an hour in minutes: the same plan
      close(at({ rate: given.rate / 60, exposure: given.exposure * 60 }), clusters)
      // the two arms may be named either way round
      close(at({ rate: given.rate * ratio, ratio: 1 / ratio }), clusters)
    }),
  )
})

test("spells cut into rows keep their exposure and their events, whatever the interval", () => {
  const spell = fc.record({
    duration: positive(0.1, 1000),
    when: fc.option(share, { nil: undefined }),
    units: fc.integer({ min: 1, max: 5 }),
  })
  fc.assert(
    fc.property(fc.array(spell, { maxLength: 30 }), positive(0.5, 500), (drawn, interval) => {
      const rows = personPeriods(
        {
          duration: Float64Array.from(drawn, ({ duration }) => duration),
          firstEvent: Float64Array.from(drawn, ({ duration, when }) => duration * (when ?? NaN)),
          units: Float64Array.from(drawn, ({ units }) => units),
        },
        interval,
      )
      drawn.forEach(({ duration, when, units }, i) => {
        let [exposure, events] = [0, 0]
        rows.spell.forEach((of, row) => {
          if (of !== i) return
          exposure += rows.exposure[row] ?? 0
          events += rows.event[row] ?? 0
        })
        expect(events).toBe(when === undefined ? 0 : 1)
        const atLeast = duration * (when ?? 1) * units
        expect(exposure).toBeGreaterThanOrEqual(atLeast * (1 - 1e-8))
        expect(exposure).toBeLessThanOrEqual(duration * units * (1 + 1e-8))
      })
    }),
  )
})

test("describing: effective size from 1 to n, resultant from 0 to 1, both blind to order and scale", () => {
  const weights = fc.array(positive(1e-6, 1e6), { minLength: 1, maxLength: 50 })
  fc.assert(
    fc.property(weights, positive(1e-3, 1e3), (drawn, unit) => {
      const size = effectiveSize(Float64Array.from(drawn))
      expect(size).toBeGreaterThan(1 - 1e-12)
      expect(size).toBeLessThan(drawn.length * (1 + 1e-12))
      close(effectiveSize(Float64Array.from(drawn, (weight) => weight * unit)), size)
      const angles = Float64Array.from(drawn, (weight) => Math.log(weight))
      const { mean, resultant } = circularMean(angles)
      expect(resultant).toBeGreaterThanOrEqual(0)
      expect(resultant).toBeLessThan(1 + 1e-12)
      const turned = circularMean(angles.map((angle) => angle + 1))
      close(turned.resultant, resultant, 1e-6)
      // the direction turns with the angles, the less surely the weaker it is
      const turn = Math.cos((turned.mean ?? 0) - (mean ?? 0) - 1)
      expect(resultant > 0.01 ? turn : 1).toBeCloseTo(1, 9)
    }),
  )
})

test("scores are finite for certain mistakes, and a table keeps every prediction", () => {
  const prediction = fc.record({ p: fc.oneof(share, fc.constantFrom(0, 1, 0.5)), came: fc.nat(1) })
  fc.assert(
    fc.property(
      fc.array(prediction, { minLength: 1, maxLength: 80 }),
      fc.integer({ min: 1, max: 12 }),
      (drawn, groups) => {
        const predictions = {
          p: Float64Array.from(drawn, ({ p }) => p),
          outcome: Uint8Array.from(drawn, ({ came }) => came),
        }
        expect(brierScore(predictions)).toBeLessThanOrEqual(1)
        expect(Number.isFinite(logLoss(predictions))).toBe(true)
        const table = calibrationTable(predictions, groups)
        const total = (of: (group: (typeof table)[number]) => number): number =>
          table.reduce((sum, group) => sum + of(group), 0)
        expect(total((group) => group.predictions)).toBe(drawn.length)
        expect(total((group) => group.observed)).toBe(drawn.filter(({ came }) => came === 1).length)
        expect(table.length).toBeLessThanOrEqual(groups)
      },
    ),
  )
})

test("a power law found in rescaled data is the same law", () => {
  const ys = fc.array(positive(1, 1e4), { minLength: 4, maxLength: 30 })
  fc.assert(
    fc.property(ys, positive(0.01, 100), positive(0.01, 100), (drawn, unitX, unitY) => {
      const x = Float64Array.from(drawn, (_, i) => 1 + ((i * 7) % drawn.length) + i / 10)
      const y = Float64Array.from(drawn)
      const law = fitPowerLaw(x, y)
      const scaled = fitPowerLaw(
        x.map((value) => value * unitX),
        y.map((value) => value * unitY),
      )
      expect(Math.abs(scaled.b - law.b)).toBeLessThan(1e-6 * (1 + Math.abs(law.b)))
      expect(Math.abs(scaled.sigma - law.sigma)).toBeLessThan(1e-6)
      const got = predictPowerLaw(law, 10)
      close(predictPowerLaw(scaled, 10 * unitX).median, got.median * unitY, 1e-5)
      expect(got.low).toBeLessThanOrEqual(got.median)
      expect(got.median).toBeLessThanOrEqual(got.mean)
      expect(got.median).toBeLessThanOrEqual(got.high)
    }),
  )
})

// For a plain mean the delete-one jackknife is the variance of a mean, s^2/n: Efron & Tibshirani (1993) section 11.2 (from memory).
test("the jackknife of a mean is the variance of a mean", () => {
  const values = fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 2, maxLength: 40 })
  fc.assert(
    fc.property(values, (drawn) => {
      const n = drawn.length
      const sum = drawn.reduce((total, value) => total + value, 0)
      const { variance } = deleteOneCluster(n, sum / n, (g) => (sum - (drawn[g] ?? 0)) / (n - 1))
      const squares = drawn.reduce((total, value) => total + (value - sum / n) ** 2, 0)
      expect(Math.abs((variance ?? NaN) - squares / (n - 1) / n)).toBeLessThan(1e-6)
    }),
  )
  expect(deleteOneCluster(1, 2, () => 2)).toMatchObject({ variance: null, most: null })
  expect(deleteOneCluster(3, 2, (g) => (g === 1 ? Infinity : 2)).variance).toBeNull()
})

test("shrunken rates and shares are finite, hold their estimate, know no order and scale with the unit of exposure", () => {
  const cell = fc.record({ y: fc.oneof(fc.nat(5), fc.nat(1_000_000)), h: positive(1 / 60, 1e4) })
  const finite = ({ low, estimate, high }: { low: number; estimate: number; high: number }): void => {
    expect(Number.isFinite(high)).toBe(true)
    expect(low).toBeLessThanOrEqual(estimate * (1 + 1e-9))
    expect(estimate).toBeLessThanOrEqual(high * (1 + 1e-9))
  }
  fc.assert(
    fc.property(fc.array(cell, { minLength: 1, maxLength: 6 }), positive(0.01, 100), (cells, unit) => {
      const y = Float64Array.from(cells, (each) => each.y)
      const h = Float64Array.from(cells, (each) => each.h)
      const rates = shrinkRates(y, h) ?? []
      rates.forEach(finite)
      const turned = shrinkRates(y.toReversed(), h.toReversed())?.toReversed() ?? []
      const scaled =
        shrinkRates(
          y,
          h.map((exposure) => exposure * unit),
        ) ?? []
      rates.forEach(({ estimate }, i) => {
        close(turned[i]?.estimate ?? NaN, estimate, 1e-6)
        close((scaled[i]?.estimate ?? NaN) * unit, estimate, 1e-6)
      })
      const trials = Float64Array.from(cells, (each, i) => each.y + (i % 2 === 0 ? 3 : each.y))
      const shares = shrinkShares(y, trials) ?? []
      shares.forEach(finite)
      const others = shrinkShares(
        trials.map((n, i) => n - (y[i] ?? 0)),
        trials,
      )
      shares.forEach(({ low, estimate }, i) => {
        expect(Math.abs((others?.[i]?.estimate ?? NaN) + estimate - 1)).toBeLessThan(1e-6)
        expect(Math.abs((others?.[i]?.high ?? NaN) + low - 1)).toBeLessThan(1e-6)
      })
    }),
    { numRuns: 15 },
  )
})
