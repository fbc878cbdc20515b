import type { Patience } from "../../shared/patience.ts"
import { factorOf, isFactorId } from "../../shared/factors.ts"
import { counted, estimateFigure, namesIn, rangeText } from "../../shared/figures.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import type { Figure, Ink } from "./figure.ts"
import { panels } from "./panels.ts"

const panel = 6
const most = 6

/** The chance of a first strike in the next quarter of an hour by dry minutes, a small panel a level, those with most spells.
 *  `width` in pixels. */
export function waiting(told: Patience, reader: ReaderUnits, ink: Ink, width: number): Figure {
  const em = ink.size * 0.8125
  const nameOf = namesIn(told, reader)
  const of = (value: number) => estimateFigure("any_fish", value, reader)
  const shown = told.levels.toSorted((a, b) => b.spells - a.spells).slice(0, most)
  const rows = shown.flatMap(({ level, after }) =>
    after.map(({ minutes, estimate, low, high, spells }) => ({
      level: nameOf(level),
      minutes: minutes === 60 ? "60+" : String(minutes),
      estimate: estimate ?? 0,
      low: low ?? 0,
      high: high ?? 1,
      open: spells < 5,
    })),
  )
  const x = {
    field: "minutes",
    type: "ordinal" as const,
    sort: null,
    axis: { title: null, labelAngle: 0, domain: false, ticks: false },
  }
  const y = (field: string) => ({
    field,
    type: "quantitative" as const,
    scale: { domain: [0, Math.min(1, Math.max(...rows.map(({ high }) => high), 0.1))] },
    axis: { title: null, format: "%", tickCount: 3, domain: false, ticks: false },
  })
  const unit = told.unit === "stop" ? "visit" : "stint"
  return {
    title: `Chance of a first strike for one rod in the next 15 minutes, by dry minutes, 95% interval${told.levels.length > most ? `; the ${most} with most ${unit}s` : ""}`,
    said: shown
      .map(
        ({ level, after }) =>
          `${nameOf(level)}: ${after.map(({ minutes, estimate, low, high }) => `after ${minutes} minutes ${of(estimate ?? 0)} (${rangeText(low, high, of)})`).join(", ")}.`,
      )
      .join(" "),
    table: {
      head: [
        isFactorId(told.by) ? factorOf(told.by).label : told.by,
        "Dry minutes",
        "Chance",
        "95% interval",
        `${unit === "visit" ? "Visits" : "Stints"} that lasted`,
      ],
      rows: told.levels.flatMap(({ level, after }) =>
        after.map(({ minutes, estimate, low, high, spells }) => [
          nameOf(level),
          minutes === 60 ? "60 or more" : String(minutes),
          of(estimate ?? 0),
          rangeText(low, high, of),
          counted(spells, unit),
        ]),
      ),
    },
    spec: panels(
      {
        levels: shown.map(({ level }) => nameOf(level)),
        values: rows,
        room: 14,
        height: panel,
        layer: [
          {
            mark: { type: "rule", size: 2.5, color: ink.sea, aria: false },
            encoding: { x, y: y("low"), y2: { field: "high" } },
          },
          {
            mark: { type: "point", size: 70, strokeWidth: 2, stroke: ink.sea, opacity: 1, aria: false },
            encoding: {
              x,
              y: y("estimate"),
              fill: { condition: { test: "datum.open", value: ink.paper }, value: ink.sea },
            },
          },
        ],
      },
      { ink, em, width },
    ),
  }
}
