import { capital } from "../../shared/casing.ts"
import { leftOutWords, tripsToBeSure } from "../../shared/answer.ts"
import type { Answer, AnswerContrast, AnswerLevel, LookThrough } from "../../shared/answer.ts"
import { factorOf, isFactorId } from "../../shared/factors.ts"
import type { Basis } from "../../shared/questions.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import {
  counted,
  estimateFigure,
  hoursFigure,
  namesIn,
  listed,
  outcomeUnit,
  rangeText,
  ratioFigure,
} from "../../shared/figures.ts"
import { outcomeOf } from "../questions/outcomes.ts"
import { axisAround, axisFromZero, intervalStrip, type Axis } from "./intervalStrip.ts"
import { columnWidth, textTable, wrapText, type TextColumn } from "./textTable.ts"

const cautionsOnTop = 2
const mostPairsShown = 3
const strip = { narrowest: 8, widest: 40 }
const widestName = 22

/**
 * A comparison for the terminal, at most `width` columns wide where names allow: the sentence, the question, what could
 * fool the reader, estimates with their intervals in numbers and drawn, ratios, and what stands behind it all. `reader`
 * are the units in which the answer was told.
 */
export function answerText(answer: Answer, width: number, reader: ReaderUnits): string {
  const rest = answer.cautions.slice(cautionsOnTop)
  const parts = [
    wrapText(answer.sentence, width),
    wrapText(questionLine(answer, reader), width),
    answer.cautions.slice(0, cautionsOnTop).flatMap(({ text }) => item(text, width)),
    answer.levels.length === 0 ? [] : levelLines(answer, width, reader),
    answer.contrasts.length === 0 ? [] : contrastLines(answer, width, reader),
    standingLines(answer, width),
    wrapText(standsBehind(answer), width),
    rest.length === 0 ? [] : ["Also:", ...rest.flatMap(({ text }) => item(text, width))],
    answer.levels.length === 0 ? [] : wrapText(methodLine(answer, reader), width),
  ]
  return parts
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join("\n"))
    .join("\n\n")
}

const item = (text: string, width: number): string[] =>
  wrapText(text, width - 2).map((line, i) => `${i === 0 ? "! " : "  "}${line}`)

const labelOf = (factor: string): string => (isFactorId(factor) ? factorOf(factor).label : factor)

/** What is asked, in the words of the unit: "Fish per rod-hour by lure class (kokanee)". */
function questionLine({ outcome, by, species }: Answer, reader: ReaderUnits): string {
  const unit = outcomeUnit(outcome, reader)
  const what = outcome === "length_mm" ? `Mean length (${unit}) of landed fish` : capital(unit)
  return `${what} by ${labelOf(by).toLowerCase()}${species === null ? "" : ` (${species})`}`
}

/** Each basis beside the one that leads, what was held alike, and what stands beside a share. */
function standingLines({ standings, headline, held, beside }: Answer, width: number): string[] {
  if (standings.length === 0) return []
  const alike =
    held === null || held.cannot !== null || held.used.length === 0 ? [] : held.used.map(({ name }) => name)
  return [
    ...wrapText(`Leads: ${headline.why}`, width),
    ...standings.flatMap(({ text, says }) => listItem(`${text}${says === "leads" ? " Leads." : ""}`, width)),
    ...(alike.length === 0 ? [] : wrapText(`Held alike: ${listed(alike, alike.length)}.`, width)),
    ...(beside === null ? [] : wrapText(beside, width)),
  ]
}

const listItem = (text: string, width: number): string[] =>
  wrapText(text, width - 2).map((line, i) => `${i === 0 ? "- " : "  "}${line}`)

function levelLines(answer: Answer, width: number, reader: ReaderUnits): string[] {
  const { levels, outcome } = answer
  const { kind, trials } = outcomeOf(outcome)
  const nameOf = namesIn(answer, reader)
  const of = (value: number) => estimateFigure(outcome, value, reader, 3)
  const range = ({ low, high }: { low: number | null; high: number | null }) =>
    low === null && high === null ? "none" : rangeText(low, high, of)
  const columns: TextColumn[] = [
    { title: "", align: "left", wraps: true },
    { title: kind === "length" ? outcomeUnit(outcome, reader) : kind, align: "right" },
    { title: "95% interval", align: "left" },
    { title: "trips", align: "right" },
    { title: "rod-h", align: "right" },
    { title: eventsTitle(answer), align: "right" },
  ]
  const cells = levels.map((level) => [
    nameOf(level.level),
    level.raw.estimate === null ? "-" : of(level.raw.estimate),
    level.naive === null ? range(level.raw) : `${range(level.raw)}\n${range(level.naive)}`,
    String(level.trips),
    hoursFigure(level.rod_hours),
    trials === null ? String(level.events) : `${level.events} of ${level.trials ?? 0}`,
  ])
  const room = stripRoom(columns, cells, width)
  if (room < strip.narrowest) return [...textTable(columns, cells, width), ...legend(levels, false, width)]
  const raws = levels.map(({ raw }) => raw)
  const axis = kind === "length" ? axisAround(raws) : axisFromZero(raws, kind === "rate" ? Infinity : 1)
  const [from, to] = [of(axis.from), of(axis.to)]
  const title = `${from}${to.padStart(room - from.length)}`
  return [
    ...textTable(
      columns.toSpliced(3, 0, { title, align: "left" }),
      cells.map((row, i) => row.toSpliced(3, 0, drawn(levels[i], axis, room))),
      width,
    ),
    ...legend(levels, true, width),
  ]
}

/** Columns left for drawing intervals beside the table, names wrapped at `widestName`. */
function stripRoom(
  columns: readonly TextColumn[],
  cells: readonly (readonly string[])[],
  width: number,
): number {
  const [name = 0, ...others] = columns.map((_, c) => columnWidth(columns, cells, c))
  const used = others.reduce((sum, other) => sum + other + 2, Math.min(widestName, name))
  return Math.min(strip.widest, width - used - 2)
}

function drawn(level: AnswerLevel | undefined, axis: Axis, room: number): string {
  if (level === undefined) return ""
  const dot = level.trips < tripsToBeSure ? "o" : "*"
  const interval = intervalStrip(level.raw, axis, room, "-", dot)
  return level.naive === null ? interval : `${interval}\n${intervalStrip(level.naive, axis, room, ".", "")}`
}

function legend(levels: readonly AnswerLevel[], strips: boolean, width: number): string[] {
  const dots = strips ? `* ${tripsToBeSure} trips or more, o fewer; ` : ""
  const naive = strips ? "dots" : "second line"
  const second = `${naive}: what would be claimed if every fish came alone`
  const text = levels.some((level) => level.naive !== null)
    ? `(${dots}${second})`
    : strips
      ? `(${dots.slice(0, -2)})`
      : ""
  return text === "" ? [] : wrapText(text, width)
}

function eventsTitle({ outcome }: Answer): string {
  if (outcome === "any_fish") return "with fish"
  return outcome === "length_mm" ? "measured" : outcomeOf(outcome).events
}

const comparedTitle: Record<Basis, string> = {
  raw: "compared as fished",
  adjusted: "compared, other things alike",
  same_trip: "compared in the same trips",
  same_stop: "compared at the same stops",
}

/** All pairs of up to three levels; beyond that those with the most-fished level, the rest counted. */
function contrastLines(answer: Answer, width: number, reader: ReaderUnits): string[] {
  const { levels, headline } = answer
  const contrasts = answer.contrasts.filter(({ basis }) => basis === headline.basis)
  const nameOf = namesIn(answer, reader)
  const most = levels.toSorted((a, b) => b.rod_hours - a.rod_hours)[0]?.level
  const shown =
    contrasts.length <= mostPairsShown || contrasts.some(({ b }) => b === "others")
      ? contrasts
      : contrasts.filter(({ a, b }) => a === most || b === most)
  const columns: TextColumn[] = [
    { title: comparedTitle[headline.basis], align: "left", wraps: true },
    { title: "ratio", align: "right" },
    { title: "95% interval", align: "left" },
    { title: "p", align: "right" },
    { title: "q", align: "right" },
  ]
  const rows = shown.map((pair) => [
    `${nameOf(pair.a)} over ${nameOf(pair.b)}`,
    ...ratioCells(pair),
    chanceFigure(pair.p),
    chanceFigure(pair.q),
  ])
  const hidden = contrasts.length - shown.length
  const allows =
    contrasts.length < 2
      ? []
      : wrapText(`(q allows for the ${counted(contrasts.length, "pair")} looked at)`, width)
  const rest = hidden === 0 ? [] : wrapText(`(${counted(hidden, "other pair")}: see --json)`, width)
  return [...textTable(columns, rows, width), ...allows, ...rest]
}

function ratioCells({ ratio, low, high }: Pick<AnswerContrast, "ratio" | "low" | "high">): [string, string] {
  return [
    ratio === null ? "-" : ratioFigure(ratio),
    low === null && high === null ? "none" : rangeText(low, high, ratioFigure),
  ]
}

const chanceFigure = (p: number | null): string =>
  p === null ? "-" : p < 0.001 ? "<0.001" : p.toFixed(p < 0.01 ? 3 : 2)

function standsBehind({ data, outcome }: Answer): string {
  const { events, trials } = outcomeOf(outcome)
  const counts = [
    counted(data.trips, "trip"),
    counted(data.stints, "stint"),
    `${Number(data.rod_hours.toFixed(1))} rod-hours`,
    trials === null
      ? `${data.events} ${events}`
      : `${data.events} ${events} of ${data.trials ?? 0} ${trials}`,
  ]
  const left = data.left_out.map(
    ({ reason, stints }) => `${counted(stints, "stint")} ${leftOutWords[reason]}`,
  )
  return `What stands behind it: ${counts.join(", ")}.${left.length === 0 ? "" : ` Left out: ${left.join("; ")}.`}`
}

function methodLine(answer: Answer, reader: ReaderUnits): string {
  const { levels, contrasts, influence, cautions } = answer
  const [intervals, ratios] = [levels, contrasts].map((rows) =>
    [...new Set(rows.map(({ method }) => method))].join("; "),
  )
  const settle = answer.settle === null ? "" : ` ${answer.settle.sentence}`
  const worst =
    influence === null || cautions.some(({ code }) => code === "one_trip_carries")
      ? ""
      : ` The trip that matters most is ${influence.trip}: without it ${influence.level === null ? "the ratio" : namesIn(answer, reader)(influence.level)} comes to ${ratioFigure(influence.change)} times what it is.`
  return `How: ${intervals ?? ""}.${ratios === undefined || ratios === "" ? "" : ` Ratios: ${ratios}.`}${settle}${worst}`
}

/** Factors told in a sentence before the table of all. */
const toldFirst = 3

/** What came of looking through every factor, for the terminal: the first few in words, then all in a table. */
export function lookThroughText(looked: LookThrough, width: number): string {
  const species = looked.species === null ? "" : ` (${looked.species})`
  const what = looked.outcome === "length_mm" ? "the length of landed fish" : outcomeOf(looked.outcome).unit
  const head = `Looked through ${counted(looked.looked_at, "factor")} for ${what}${species}.`
  if (looked.factors.length === 0)
    return wrapText(`${head} No factor has two known levels yet.`, width).join("\n")
  const columns: TextColumn[] = [
    { title: "factor", align: "left" },
    { title: "its strongest pair", align: "left", wraps: true },
    { title: "ratio", align: "right" },
    { title: "95% interval", align: "left" },
    { title: "p", align: "right" },
    { title: "q", align: "right" },
  ]
  const rows = looked.factors.map(({ factor, size, p, q }) => [
    labelOf(factor),
    size === null ? "too few trips" : size.of,
    ...(size === null ? ["-", "none"] : ratioCells(size)),
    chanceFigure(p),
    chanceFigure(q),
  ])
  const note =
    "Compared within trips; where a factor does not vary within them, as fished or, among the strongest, with other things held alike. p allows for the pairs within a factor, q for all factors looked at; the intervals allow for neither. What leads here may only go along with what matters."
  return [
    wrapText(head, width),
    ...looked.factors.slice(0, toldFirst).map(({ sentence }) => wrapText(sentence, width)),
    textTable(columns, rows, width),
    wrapText(note, width),
    ...looked.cautions.map(({ text }) => wrapText(`! ${text}`, width)),
  ]
    .map((lines) => lines.join("\n"))
    .join("\n\n")
}
