import type { Patience } from "../../shared/patience.ts"
import type { Steps } from "../../shared/steps.ts"
import { estimateFigure, hoursFigure, namesIn, rangeText, ratioFigure } from "../../shared/figures.ts"
import type { Outcome } from "../../shared/questions.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import { textTable, wrapText, type TextColumn } from "./textTable.ts"

type Ends = { estimate: number | null; low: number | null; high: number | null }

/** From look to landed, or how long to give a spot, for the terminal. */
export function stepsText(told: Steps | Patience, width: number, reader: ReaderUnits): string {
  const table =
    told.refused !== null
      ? []
      : told.question === "steps"
        ? steps(told, width, reader)
        : waits(told, width, reader)
  const behind =
    told.question === "steps"
      ? `What stands behind it: ${told.trips} trips, ${told.stints} stints with every step counted; ${told.left_out} left out.`
      : `What stands behind it: ${told.trips} trips, ${told.spells} ${told.unit === "stop" ? "visits" : "stints"}, ${told.with_strike} with a first strike; ${told.left_out} left out.`
  return [
    wrapText(told.sentence, width),
    table,
    ...(told.refused === null ? [wrapText(behind, width)] : []),
    told.cautions.flatMap(({ text }) => wrapText(`! ${text}`, width)),
  ]
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join("\n"))
    .join("\n\n")
}

function steps(told: Steps, width: number, reader: ReaderUnits): string[] {
  const nameOf = namesIn(told, reader)
  const cell = (outcome: Outcome, { estimate, low, high }: Ends): string => {
    const of = (value: number) => estimateFigure(outcome, value, reader)
    return estimate === null ? "-" : `${of(estimate)}\n${rangeText(low, high, of)}`
  }
  const looked = told.levels.some(({ struck }) => struck !== null)
  const columns: TextColumn[] = [
    { title: "", align: "left", wraps: true },
    { title: "rod-h", align: "right" },
    ...(looked ? [{ title: "struck", align: "right" as const }] : []),
    { title: "strikes/h", align: "right" },
    { title: "hooked", align: "right" },
    { title: "landed", align: "right" },
    { title: "loses at", align: "left" },
  ]
  const rows = told.levels.map((level) => {
    const at = level.loses_at
    const lost = at === null ? "-" : `${at}\n${ratioFigure(level.against_rest[at]?.ratio ?? 0)} of the rest`
    return [
      nameOf(level.level),
      hoursFigure(level.rod_hours),
      ...(looked ? [level.struck === null ? "-" : cell("hook_up_share", level.struck)] : []),
      cell("strike_rate", level.strikes),
      cell("hook_up_share", level.hooked),
      cell("landing_share", level.landed),
      lost,
    ]
  })
  return textTable(columns, rows, width)
}

function waits(told: Patience, width: number, reader: ReaderUnits): string[] {
  const nameOf = namesIn(told, reader)
  const minutes = [...new Set(told.levels.flatMap(({ after }) => after.map((one) => one.minutes)))].sort(
    (a, b) => a - b,
  )
  const of = (value: number) => estimateFigure("any_fish", value, reader)
  const columns: TextColumn[] = [
    { title: "chance of a strike in 15 min after", align: "left", wraps: true },
    ...minutes.map((m): TextColumn => ({ title: `${m} min`, align: "right" })),
  ]
  const rows = told.levels.map(({ level, after }) => [
    nameOf(level),
    ...minutes.map((m) => {
      const one = after.find((own) => own.minutes === m)
      return one?.estimate == null
        ? "-"
        : `${of(one.estimate)}\n${rangeText(one.low, one.high, of)}\n${one.spells} waited`
    }),
  ])
  return textTable(columns, rows, width)
}
