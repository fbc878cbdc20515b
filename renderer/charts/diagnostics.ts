import { capital } from "../../shared/casing.ts"
import type { Answer } from "../../shared/answer.ts"
import { figure } from "../../shared/figures.ts"
import { outcomeWords } from "../../shared/outcomes.ts"
import type { Figure, Ink } from "./figure.ts"
import { configOf } from "./config.ts"

const height = 11

type Diagnostics = NonNullable<NonNullable<Answer["working"]>["diagnostics"]>
type Of<Kind extends Diagnostics["kind"]> = Extract<Diagnostics, { kind: Kind }>

/** How the model stands to what was counted: a rootogram of counts, or binned residuals of shares. `width` in pixels. Null where the
 *  answer has no such thing. */
export function diagnostics(answer: Answer, ink: Ink, width: number): Figure | null {
  const told = answer.working?.diagnostics ?? null
  if (told === null) return null
  return told.kind === "counts" ? ofCounts(told, answer, ink, width) : ofShares(told, answer, ink, width)
}

function ofCounts({ counts }: Of<"counts">, { outcome }: Answer, ink: Ink, width: number): Figure {
  const em = ink.size * 0.8125
  const last = counts.at(-1)?.count ?? 0
  const nameOf = (count: number) => (count === last ? `${count} or more` : String(count))
  const rows = counts.map(({ count, observed, expected }) => ({
    count: nameOf(count),
    short: count === last ? `${count}+` : String(count),
    observed,
    expected,
  }))
  const { events } = outcomeWords(outcome)
  const x = {
    field: "short",
    type: "ordinal" as const,
    sort: null,
    axis: {
      title: `${events} in a stint`,
      titleColor: ink.soft,
      titleFontSize: em,
      labelAngle: 0,
      domain: false,
      ticks: false,
    },
  }
  const y = (field: string) => ({
    field,
    type: "quantitative" as const,
    scale: { type: "sqrt" as const, zero: true },
    axis: { title: null, grid: true, domain: false, ticks: false, tickCount: 4 },
  })
  return {
    title: `Stints by their ${events}, on a root scale: bars as seen, dots as the model expects over good and bad days`,
    said: rows
      .map(({ count, observed, expected }) => `${count}: ${observed} seen, ${figure(expected)} expected.`)
      .join(" "),
    table: {
      head: [`${events} in a stint`, "Stints seen", "Stints expected"],
      rows: rows.map(({ count, observed, expected }) => [count, String(observed), figure(expected, 3)]),
    },
    spec: {
      ...frame(ink, em, width),
      data: { values: rows },
      layer: [
        { mark: { type: "bar", color: ink.rule, aria: false }, encoding: { x, y: y("observed") } },
        {
          mark: { type: "line", color: ink.sea, strokeWidth: 1.5, aria: false },
          encoding: { x, y: y("expected") },
        },
        {
          mark: { type: "point", filled: true, size: 60, color: ink.sea, opacity: 1, aria: false },
          encoding: { x, y: y("expected") },
        },
      ],
    },
  }
}

function ofShares({ bins }: Of<"shares">, { outcome }: Answer, ink: Ink, width: number): Figure {
  const em = ink.size * 0.8125
  const rows = bins.map(({ fitted, observed, reach, trials }) => ({
    fitted,
    apart: observed - fitted,
    low: -reach,
    high: reach,
    outside: Math.abs(observed - fitted) > reach,
    trials,
    observed,
  }))
  const percent = (value: number) => `${Math.round(100 * value)}%`
  const trials = outcomeWords(outcome).trials ?? "stints"
  const outside = rows.filter((row) => row.outside).length
  const x = {
    field: "fitted",
    type: "quantitative" as const,
    scale: { zero: false },
    axis: {
      title: "share the model expects",
      titleColor: ink.soft,
      titleFontSize: em,
      format: "%",
      grid: false,
      domainColor: ink.rule,
    },
  }
  const y = (field: string) => ({
    field,
    type: "quantitative" as const,
    axis: { title: null, grid: true, domain: false, ticks: false, tickCount: 5, format: "+.0%" },
  })
  return {
    title: `Share seen less share expected, good and bad days averaged over; lines: within luck in 95 of 100 were all ${trials} on their own`,
    said: `${rows
      .map((row) => `Expected ${percent(row.fitted)}: seen ${percent(row.observed)} of ${row.trials}.`)
      .join(" ")} ${outside} of ${rows.length} lie farther out than luck alone would leave them.`,
    table: {
      head: ["Expected", "Seen", "Within luck", capital(trials)],
      rows: rows.map((row) => [
        percent(row.fitted),
        percent(row.observed),
        `${percent(Math.max(0, row.fitted + row.low))} to ${percent(Math.min(1, row.fitted + row.high))}`,
        String(row.trials),
      ]),
    },
    spec: {
      ...frame(ink, em, width),
      data: { values: rows },
      layer: [
        {
          mark: { type: "rule", size: 2, color: ink.rule, aria: false },
          encoding: { x, y: y("low"), y2: { field: "high" } },
        },
        {
          mark: { type: "point", size: 60, strokeWidth: 2, stroke: ink.sea, opacity: 1, aria: false },
          encoding: {
            x,
            y: y("apart"),
            fill: { condition: { test: "datum.outside", value: ink.paper }, value: ink.sea },
          },
        },
      ],
    },
  }
}

const frame = (ink: Ink, em: number, width: number) => ({
  width: Math.max(8 * em, width - 5 * em),
  height: height * em,
  config: configOf(ink, em),
})
