import { capital } from "../../shared/casing.ts"
import type { Answer } from "../../shared/answer.ts"
import { octantName, octantOf, octants, roundMarks } from "../../shared/cyclicNames.ts"
import { factorOf, isFactorId, type Factor } from "../../shared/factors.ts"
import { estimateFigure, figure, outcomeUnit, rangeText } from "../../shared/figures.ts"
import { outcomeWords } from "../../shared/outcomes.ts"
import { readerUnit, type ReaderUnits } from "../../shared/readerUnits.ts"
import { convert, units as unitRows } from "../../shared/units.ts"
import type { Figure, Ink } from "./figure.ts"
import { configOf } from "./config.ts"

const height = 15
const edge = 2.4
const inTable = 9

/** The fitted outcome along a number or a cycle with its 95% band, and along its edge how much was fished where. `width` in
 *  pixels. Null where there is no curve. */
export function curveBand(answer: Answer, reader: ReaderUnits, ink: Ink, width: number): Figure | null {
  const { curve, density, by, outcome } = answer
  if (curve === null || density === null || !isFactorId(by)) return null
  const em = ink.size * 0.8125
  const factor = factorOf(by)
  const unit = factor.kind === "categorical" ? null : factor.unit
  const seenUnit = unit === null ? null : readerUnit(unit, reader)
  const along = (x: number): number => (unit === null || seenUnit === null ? x : convert(x, unit, seenUnit))
  const length = outcomeWords(outcome).kind === "length"
  const seen = (value: number): number => (length ? convert(value, "mm", readerUnit("mm", reader)) : value)
  const of = (value: number) => estimateFigure(outcome, value, reader)
  const most = Math.max(...curve.map(({ estimate }) => seen(estimate))) * 2
  const step = (curve.at(-1)?.x ?? 0) - (curve[0]?.x ?? 0)
  let piece = 0
  const points = curve.map(({ x, estimate, low, high }, i) => {
    const before = curve[i - 1]
    if (before !== undefined && x - before.x > step / 30) piece++
    return { x: along(x), estimate: seen(estimate), low: seen(low), high: Math.min(most, seen(high)), piece }
  })
  const heaviest = Math.max(...density.map(({ weight }) => weight), 1e-9)
  const bars = density.map(({ from, to, weight }) => ({
    from: along(from),
    to: along(to),
    weight: weight / heaviest,
    none: 0,
  }))
  const marks = roundMarks(by)
  const label =
    seenUnit === null || marks !== null ? factor.label : `${factor.label} (${unitRows[seenUnit].symbol})`
  const domain = [along(density[0]?.from ?? 0), along(density.at(-1)?.to ?? 1)]
  const x = (field: string, title: string | null) => ({
    field,
    type: "quantitative" as const,
    scale: { domain, nice: false, zero: false },
    axis:
      title === null
        ? null
        : {
            title,
            titleColor: ink.soft,
            titleFontSize: em,
            grid: false,
            domainColor: ink.rule,
            ...(marks === null ? {} : inWords(marks, domain)),
          },
  })
  const y = (field: string) => ({
    field,
    type: "quantitative" as const,
    scale: { zero: !length },
    axis: {
      title: null,
      grid: true,
      domain: false,
      ticks: false,
      tickCount: 5,
      format: ["share", "chance"].includes(outcomeWords(outcome).kind) ? "%" : "~g",
    },
  })
  const some = pointsToSay(factor, curve)
  const at = (x: number) =>
    (factor.kind === "cyclic" ? octantName(by, (octantOf(x, factor) * factor.period) / octants) : null) ??
    figure(along(x), 3)
  const plot = Math.max(8 * em, width - 5 * em)
  return {
    title: `${capital(outcomeUnit(outcome, reader))} by ${factor.label.toLowerCase()}, other things alike, 95% band`,
    said: some
      .map(
        ({ x: where, estimate, low, high }) => `${at(where)}: ${of(estimate)} (${rangeText(low, high, of)}).`,
      )
      .join(" "),
    table: {
      head: [label, outcomeUnit(outcome, reader), "95% band"],
      rows: some.map(({ x: where, estimate, low, high }) => [
        at(where),
        of(estimate),
        rangeText(low, high, of),
      ]),
    },
    spec: {
      config: configOf(ink, em),
      spacing: 4,
      vconcat: [
        {
          width: plot,
          height: height * em,
          data: { values: points },
          layer: [
            {
              mark: { type: "area", color: ink.sea, opacity: 0.18, aria: false },
              encoding: { x: x("x", null), y: y("low"), y2: { field: "high" }, detail: { field: "piece" } },
            },
            {
              mark: { type: "line", color: ink.sea, strokeWidth: 2.5, aria: false },
              encoding: { x: x("x", null), y: y("estimate"), detail: { field: "piece" } },
            },
          ],
        },
        {
          width: plot,
          height: edge * em,
          data: { values: bars },
          mark: { type: "rect", color: ink.soft, aria: false },
          encoding: {
            x: x("from", label),
            x2: { field: "to" },
            y: { field: "none", type: "quantitative", scale: { domain: [0, 1] }, axis: null },
            y2: { field: "weight" },
          },
        },
      ],
    },
  }
}

type Point = NonNullable<Answer["curve"]>[number]

/** The round of a cycle marked in words instead of its own numbers. */
const inWords = (marks: readonly string[], [from = 0, to = 1]: readonly number[]) => {
  const step = (to - from) / (marks.length - 1)
  return {
    values: marks.map((_, i) => from + i * step),
    labelExpr: `${JSON.stringify(marks)}[round((datum.value - ${from}) / ${step})]`,
    labelOverlap: "greedy" as const,
    labelBound: true,
    labelFlush: true,
  }
}

/** A few points that tell the curve in words: the middles of a round's eighths, or evenly along a number. */
function pointsToSay(factor: Factor, curve: readonly Point[]): readonly Point[] {
  if (factor.kind !== "cyclic")
    return curve.filter((_, i) => i % Math.max(1, Math.floor(curve.length / inTable)) === 0)
  const eighth = factor.period / octants
  const off = ({ x }: Point, i: number) => Math.abs(x - (i + 0.5) * eighth)
  return Array.from({ length: octants }).flatMap((_, i) => {
    const within = curve.filter(({ x }) => octantOf(x, factor) === i)
    return within.toSorted((a, b) => off(a, i) - off(b, i)).slice(0, 1)
  })
}
