import { capital } from "../../shared/casing.ts"
import type { Answer } from "../../shared/answer.ts"
import { factorOf, isFactorId } from "../../shared/factors.ts"
import {
  counted,
  estimateFigure,
  hoursFigure,
  levelNames,
  outcomeUnit,
  rangeText,
} from "../../shared/figures.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import type { Figure, Ink } from "./figure.ts"
import { configOf } from "./config.ts"

const rowHeight = 3
/** The names of the rows: so many ems at most, and for a letter. */
const widestName = 10
const letter = 0.6
/** Trips from which a cell is drawn in full; with fewer it fades. */
const tripsInFull = 12

/** Every level at every level of the modifier: the deeper the more, fainter the thinner the evidence; the number stands in each.
 *  `width` in pixels. Null where the answer asks of no modifier. */
export function heatMap(answer: Answer, reader: ReaderUnits, ink: Ink, width: number): Figure | null {
  const { depends, by, outcome, levels } = answer
  if (depends === null || depends.cells.length === 0 || !isFactorId(by) || !isFactorId(depends.modifier))
    return null
  const em = ink.size * 0.8125
  const nameOf = levelNames(
    by,
    levels.map(({ level }) => level),
    reader,
  )
  const ats = [...new Set(depends.levels.map(({ at }) => at).concat(depends.cells.map(({ at }) => at)))]
  const atName = levelNames(depends.modifier, ats, reader)
  const of = (value: number | null) => (value === null ? "-" : estimateFigure(outcome, value, reader))
  const cells = depends.cells.map((cell) => ({
    level: nameOf(cell.level),
    at: atName(cell.at),
    estimate: cell.estimate ?? 0,
    text: of(cell.estimate),
    evidence: 0.15 + 0.85 * Math.min(1, cell.trips / tripsInFull),
    trips: counted(cell.trips, "trip"),
  }))
  const longest = Math.max(...levels.map(({ level }) => nameOf(level).length))
  const nameWidth = Math.min(widestName, 1 + letter * longest)
  const plot = Math.max(10 * em, width - (nameWidth + 1) * em)
  const x = {
    field: "at",
    type: "nominal" as const,
    sort: ats.map(atName),
    axis: {
      title: null,
      orient: "top" as const,
      labelAngle: 0,
      domain: false,
      ticks: false,
      labelLimit: plot / ats.length,
    },
  }
  const y = {
    field: "level",
    type: "nominal" as const,
    sort: levels.map(({ level }) => nameOf(level)),
    axis: { title: null, domain: false, ticks: false, labelLimit: nameWidth * em },
  }
  const most = Math.max(...cells.map(({ estimate }) => estimate), 1e-9)
  return {
    title: `${capital(outcomeUnit(outcome, reader))} by ${factorOf(by).label.toLowerCase()} and ${factorOf(depends.modifier).label.toLowerCase()}`,
    said: `${cells.map(({ level, at, text, trips }) => `${level}, ${at}: ${text}, ${trips}.`).join(" ")} Cells are drawn towards what all have in common; they fade below ${tripsInFull} trips.`,
    table: {
      head: [
        "",
        factorOf(depends.modifier).label,
        outcomeUnit(outcome, reader),
        "as fished",
        "95% interval",
        "Trips",
        "Rod-hours",
      ],
      rows: depends.cells.map((cell) => [
        nameOf(cell.level),
        atName(cell.at),
        of(cell.estimate),
        of(cell.raw),
        rangeText(cell.low, cell.high, (end) => estimateFigure(outcome, end, reader)),
        String(cell.trips),
        hoursFigure(cell.rod_hours),
      ]),
    },
    spec: {
      width: plot,
      height: { step: rowHeight * em },
      padding: { left: nameWidth * em, right: em, top: 2 * em, bottom: 4 },
      autosize: { type: "none" },
      config: configOf(ink, em),
      data: { values: cells },
      layer: [
        {
          mark: { type: "rect", color: ink.sea, stroke: ink.paper, strokeWidth: 2, aria: false },
          encoding: {
            x,
            y,
            opacity: {
              field: "shade",
              type: "quantitative",
              scale: { domain: [0, 1], range: [0, 0.6] },
              legend: null,
            },
          },
          transform: [{ calculate: `datum.estimate / ${most} * datum.evidence`, as: "shade" }],
        },
        {
          mark: { type: "text", color: ink.ink, dy: -0.55 * em, aria: false },
          encoding: { x, y, text: { field: "text" } },
        },
        {
          mark: { type: "text", color: ink.ink, dy: 0.6 * em, fontSize: em * 0.85, aria: false },
          encoding: { x, y, text: { field: "trips" } },
        },
      ],
    },
  }
}
