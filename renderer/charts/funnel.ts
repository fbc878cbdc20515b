import type { Steps } from "../../shared/steps.ts"
import { factorOf, isFactorId } from "../../shared/factors.ts"
import { estimateFigure, namesIn, rangeText } from "../../shared/figures.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import type { Figure, Ink } from "./figure.ts"
import { panels } from "./panels.ts"

const panel = 8
const most = 6

type Ends = { readonly estimate: number | null; readonly low: number | null; readonly high: number | null }

/** From look to landed: of each level, those fished most, how many follows, strikes, hook-ups and landed fish came per rod-hour,
 *  and what part of each step came out of the one before. `width` in pixels. */
export function funnel(told: Steps, reader: ReaderUnits, ink: Ink, width: number): Figure {
  const em = ink.size * 0.8125
  const nameOf = namesIn(told, reader)
  const shown = told.levels.toSorted((a, b) => b.rod_hours - a.rod_hours).slice(0, most)
  const withFollows = told.levels.some(({ follows }) => follows !== null)
  const rows = told.levels.flatMap((level) =>
    stepsOf(level).map((step) => ({ ...step, level: nameOf(level.level) })),
  )
  const drawn = rows.filter(({ level }) => shown.some((own) => nameOf(own.level) === level))
  const top = 2 * Math.max(...drawn.map(({ rate }) => rate.estimate ?? 0), 0.05)
  const values = drawn.flatMap(({ level, step, rate, share }) =>
    rate.estimate === null
      ? []
      : {
          level,
          step,
          estimate: rate.estimate,
          low: rate.low ?? 0,
          high: Math.min(top, rate.high ?? top),
          beyond: (rate.high ?? Number.POSITIVE_INFINITY) > top,
          share: share?.estimate == null ? "" : percent(share.estimate),
        },
  )
  const x = {
    field: "step",
    type: "ordinal" as const,
    sort: withFollows ? ["follows", ...always] : [...always],
    axis: { title: null, labelAngle: 0, domain: false, ticks: false },
  }
  const y = (field: string) => ({
    field,
    type: "quantitative" as const,
    scale: { type: "sqrt" as const, domain: [0, top] },
    axis: { title: null, tickCount: 3, domain: false, ticks: false, format: ".2~r" },
  })
  return {
    title: `From look to landed: each step per rod-hour on a root scale, 95% interval; in per cent ${withFollows ? "the part of looks that struck, " : ""}of strikes hooked, of these landed${told.levels.length > most ? `; the ${most} fished most` : ""}`,
    said: rows
      .filter(({ rate }) => rate.estimate !== null)
      .map(
        ({ level, step, rate, share }) => `${level}, ${step}: ${rateText(rate, reader)}${shareText(share)}.`,
      )
      .join(" "),
    table: {
      head: [
        isFactorId(told.by) ? factorOf(told.by).label : told.by,
        "Step",
        "Per rod-hour",
        "95% interval",
        "Of the step before",
        "95% interval",
      ],
      rows: rows.map(({ level, step, rate, share }) => [
        level,
        step,
        rate.estimate === null ? "-" : estimateFigure("strike_rate", rate.estimate, reader),
        rate.estimate === null ? "" : rangeOf(rate, (end) => estimateFigure("strike_rate", end, reader)),
        share?.estimate == null ? "-" : percent(share.estimate),
        share?.estimate == null ? "" : rangeOf(share, percent),
      ]),
    },
    spec: panels(
      {
        levels: shown.map(({ level }) => nameOf(level)),
        values,
        room: 17,
        height: panel,
        layer: [
          {
            mark: { type: "line", color: ink.rule, strokeWidth: 1.5, aria: false },
            encoding: { x, y: y("estimate") },
          },
          {
            mark: { type: "rule", size: 2.5, color: ink.sea, aria: false },
            encoding: { x, y: y("low"), y2: { field: "high" } },
          },
          {
            transform: [{ filter: "datum.beyond" }],
            mark: {
              type: "point",
              shape: "triangle-up",
              filled: true,
              size: 60,
              color: ink.sea,
              aria: false,
            },
            encoding: { x, y: y("high") },
          },
          {
            mark: { type: "point", filled: true, size: 70, color: ink.sea, opacity: 1, aria: false },
            encoding: { x, y: y("estimate") },
          },
          {
            mark: {
              type: "text",
              align: "left",
              dx: 0.55 * em,
              dy: -0.4 * em,
              color: ink.ink,
              aria: false,
            },
            encoding: { x, y: y("estimate"), text: { field: "share" } },
          },
        ],
      },
      { ink, em, width },
    ),
  }
}

const always = ["strikes", "hook-ups", "landed"] as const

type Level = Steps["levels"][number]
function stepsOf(level: Level): { step: string; rate: Ends; share: Ends | null }[] {
  return [
    ...(level.follows === null ? [] : [{ step: "follows", rate: level.follows, share: null }]),
    { step: "strikes", rate: level.strikes, share: level.struck },
    { step: "hook-ups", rate: level.per_hour.hooked, share: level.hooked },
    { step: "landed", rate: level.per_hour.landed, share: level.landed },
  ]
}

const percent = (share: number): string => `${Math.round(100 * share)}%`
const rangeOf = ({ low, high }: Ends, of: (end: number) => string): string => rangeText(low, high, of)

function rateText(rate: Ends, reader: ReaderUnits): string {
  const of = (value: number) => estimateFigure("strike_rate", value, reader)
  return rate.estimate === null ? "none" : `${of(rate.estimate)} per rod-hour (${rangeOf(rate, of)})`
}

const shareText = (share: Ends | null): string =>
  share?.estimate == null
    ? ""
    : `, ${percent(share.estimate)} of the step before (${rangeOf(share, percent)})`
