import { capital } from "../../shared/casing.ts"
import { tripsToBeSure, type Answer } from "../../shared/answer.ts"
import { estimateFigure, hoursFigure, namesIn, outcomeUnit, rangeText } from "../../shared/figures.ts"
import { outcomeWords } from "../../shared/outcomes.ts"
import { readerUnit, type ReaderUnits } from "../../shared/readerUnits.ts"
import { convert } from "../../shared/units.ts"
import { configOf } from "./config.ts"
import type { Figure, Ink } from "./figure.ts"

const rowHeight = 2.35
/** In ems: the names' and the counts' columns, and the width below which only the trips stay in line. */
const nameWidths = { wide: 15, narrow: 9 }
const countWidth = 5.7
const narrowBelow = 42
/** The width of a letter, about, in ems. */
const letter = 0.53

type Row = {
  readonly label: string
  /** The label as it is written, in two lines where one is too short. */
  readonly name: string
  readonly estimate: number | null
  readonly low: number | null
  readonly high: number | null
  readonly naiveLow: number | null
  readonly naiveHigh: number | null
  readonly open: boolean
  readonly beyond: boolean
  readonly trips: string
  readonly hours: string
  readonly events: string
}

/**
 * A dot and an interval a level, with trips, rod-hours and events in line: the numbers the core gave, none computed here.
 * Dashes are the naive interval; an open dot stands on few trips; an interval that goes on beyond the axis ends in an arrow.
 * `width` in pixels.
 */
export function rateIntervals(answer: Answer, units: ReaderUnits, ink: Ink, width: number): Figure {
  const { outcome, levels } = answer
  const words = outcomeWords(outcome)
  const em = ink.size * 0.8125
  const nameOf = namesIn(answer, units)
  const seen = (value: number | null): number | null =>
    value === null || words.kind !== "length" ? value : convert(value, "mm", readerUnit("mm", units))
  const [from, to] = axisOf(answer, seen)
  const inside = (value: number | null): number => Math.min(to, Math.max(from, value ?? to))
  const narrow = width < narrowBelow * em
  const nameWidth = narrow ? nameWidths.narrow : nameWidths.wide
  const rows: Row[] = levels.map((level) => ({
    label: nameOf(level.level),
    name: inTwoLines(nameOf(level.level), (nameWidth - 0.8) / letter),
    estimate: seen(level.raw.estimate),
    low: inside(seen(level.raw.low) ?? from),
    high: inside(seen(level.raw.high)),
    naiveLow: level.naive === null ? null : inside(seen(level.naive.low) ?? from),
    naiveHigh: level.naive === null ? null : inside(seen(level.naive.high)),
    open: level.trips < tripsToBeSure,
    beyond: level.raw.high === null || (seen(level.raw.high) ?? 0) > to,
    trips: String(level.trips),
    hours: hoursFigure(level.rod_hours),
    events: words.trials === null ? String(level.events) : `${level.events} of ${level.trials ?? 0}`,
  }))
  const counts = narrow ? 1 : 3
  const plot = Math.max(5 * em, width - (nameWidth + counts * countWidth + 1) * em)
  const columns = [
    { field: "trips", title: "trips" },
    { field: "hours", title: "rod-hours" },
    { field: "events", title: words.events },
  ].slice(0, counts)
  const column = (field: string, place: number) => ({
    mark: {
      type: "text" as const,
      align: "right" as const,
      x: plot + (place + 1) * countWidth * em,
      color: ink.ink,
      aria: false,
    },
    encoding: {
      text: { field },
      y: { field: "label", type: "nominal" as const, sort: null },
    },
  })
  const y = { field: "label", type: "nominal" as const, sort: null, axis: null, scale: { padding: 0 } }
  const x = (field: string) => ({
    field,
    type: "quantitative" as const,
    scale: { domain: { expr: "axis" }, nice: false, zero: false },
    axis: {
      orient: "top" as const,
      title: null,
      grid: true,
      domain: false,
      ticks: false,
      tickCount: 5,
      format: words.kind === "share" || words.kind === "chance" ? "%" : "~g",
    },
  })
  const events = capital(words.events)
  return {
    title: `${capital(outcomeUnit(outcome, units))}, 95% interval`,
    said: rows.map((row, i) => saidOf(row, answer, i, units)).join(" "),
    table: {
      head: [
        "",
        capital(words.kind),
        "95% interval",
        "If every fish came alone",
        "Trips",
        "Rod-hours",
        events,
      ],
      rows: levels.map((level, i) => [
        rows[i]?.label ?? level.level,
        level.raw.estimate === null ? "-" : estimateFigure(outcome, level.raw.estimate, units, 3),
        rangeText(level.raw.low, level.raw.high, (end) => estimateFigure(outcome, end, units)),
        level.naive === null
          ? ""
          : rangeText(level.naive.low, level.naive.high, (end) => estimateFigure(outcome, end, units)),
        rows[i]?.trips ?? "",
        rows[i]?.hours ?? "",
        rows[i]?.events ?? "",
      ]),
    },
    spec: {
      width: plot,
      height: { step: rowHeight * em },
      padding: { left: nameWidth * em, right: counts * countWidth * em, top: 1.6 * em, bottom: 4 },
      autosize: { type: "none" },
      data: { values: rows },
      params: [{ name: "axis", value: [from, to] }],
      config: configOf(ink, em),
      layer: [
        {
          name: "names",
          mark: {
            type: "text",
            align: "left",
            x: -nameWidth * em,
            dy: { expr: `indexof(datum.name, "\\n") < 0 ? 0 : ${-0.55 * em}` },
            lineBreak: "\n",
            lineHeight: em * 1.1,
            color: ink.ink,
            limit: (nameWidth - 0.8) * em,
            aria: false,
          },
          encoding: { text: { field: "name" }, y },
        },
        {
          mark: { type: "rule", strokeDash: [2, 2], color: ink.soft, yOffset: em * 0.5, aria: false },
          encoding: { x: x("naiveLow"), x2: { field: "naiveHigh" }, y },
        },
        {
          mark: { type: "rule", size: 2.5, color: ink.sea, aria: false },
          encoding: { x: x("low"), x2: { field: "high" }, y },
        },
        {
          transform: [{ filter: "datum.beyond" }],
          mark: {
            type: "point",
            shape: "triangle-right",
            filled: true,
            size: 60,
            color: ink.sea,
            aria: false,
          },
          encoding: { x: x("high"), y },
        },
        {
          mark: { type: "point", size: 95, strokeWidth: 2, stroke: ink.sea, opacity: 1, aria: false },
          encoding: {
            x: x("estimate"),
            y,
            fill: { condition: { test: "datum.open", value: ink.paper }, value: ink.sea },
          },
        },
        ...columns.map(({ field }, i) => column(field, i)),
        ...columns.map(({ title }, i) => ({
          data: { values: [{ title }] },
          mark: {
            type: "text" as const,
            align: "right" as const,
            x: plot + (i + 1) * countWidth * em,
            y: -0.8 * em,
            color: ink.soft,
            aria: false,
          },
          encoding: { text: { field: "title" } },
        })),
      ],
    },
  }
}

/** How far beyond the largest estimate the axis goes at most. */
const mostBeyond = 1.6

/** From zero for rates and shares, around the intervals for lengths; wide intervals do not push the rest together. */
function axisOf(
  { levels, outcome }: Answer,
  seen: (value: number | null) => number | null,
): [number, number] {
  const { kind } = outcomeWords(outcome)
  const known = (values: readonly (number | null)[]) => values.filter((value) => value !== null)
  const highs = known(levels.map(({ raw }) => seen(raw.high)))
  const estimates = known(levels.map(({ raw }) => seen(raw.estimate)))
  const most = Math.max(...estimates, 0)
  const high = Math.max(most * 1.1, Math.min(Math.max(...highs, most), most * mostBeyond))
  if (kind === "share" || kind === "chance") return [0, Math.min(1, high)]
  if (kind === "rate") return [0, high === 0 ? 1 : high]
  const low = Math.min(...known(levels.map(({ raw }) => seen(raw.low))), ...estimates)
  return [low * 0.97, high]
}

/** A name parted at the space that leaves the first line longest, where it has more letters than fit in one. */
function inTwoLines(name: string, letters: number): string {
  if (name.length <= letters) return name
  const at = name.lastIndexOf(" ", letters)
  return at < 0 ? name : `${name.slice(0, at)}\n${name.slice(at + 1)}`
}

/** A text with its first letter large. */

function saidOf(row: Row, { outcome, levels }: Answer, i: number, units: ReaderUnits): string {
  const level = levels[i]
  if (level === undefined || level.raw.estimate === null)
    return `${capital(row.label)}: nothing to tell from.`
  const of = (value: number) => estimateFigure(outcome, value, units)
  return `${capital(row.label)}: ${of(level.raw.estimate)} (${rangeText(level.raw.low, level.raw.high, of)}), from ${row.trips} trips, ${row.hours} rod-hours and ${row.events} ${outcomeWords(outcome).events}.`
}
