import { counted } from "../../shared/figures.ts"
import { utcText } from "../exchange/station/utcText.ts"
import { wrapText } from "./textTable.ts"
import {
  addsNothing,
  additionsText,
  type ImportDone,
  type ImportPlanReport,
  type TakenBack,
} from "../../shared/imports.ts"
import { entityText } from "../../shared/entityText.ts"

const shown = 20
const list = (lines: readonly string[], of: (rest: number) => string): string[] => [
  ...lines.slice(0, shown).map((line) => `  ${line}`),
  ...(lines.length > shown ? [`  ${of(lines.length - shown)}`] : []),
]

/** Wraps each line of a page; what belongs to an indented line stays indented under it. */
const wrapped = (lines: readonly string[], width: number): string =>
  lines
    .flatMap((line) => {
      const indent = line.startsWith("  ") ? "  " : ""
      const [first = "", ...rest] = wrapText(line.slice(indent.length), width - 2 * indent.length)
      return [indent + first, ...rest.map((more) => indent + indent + more)]
    })
    .join("\n")

function nothingToAdd({ already_there, records, readings, tracks }: ImportPlanReport): string {
  if (tracks.already_there > 0)
    return `Nothing to add: ${counted(tracks.already_there, "track")} ${tracks.already_there === 1 ? "was" : "were"} there already.`
  if (readings.already_there > 0)
    return `Nothing to add: ${counted(readings.already_there, "reading")} from stations were there already.`
  return already_there.length === records
    ? `Nothing to add: all ${counted(records, "row")} were there already.`
    : "Nothing to add."
}

/** What an import will do, or did, as a page for the terminal, at most `width` columns wide. */
export function importText(report: ImportPlanReport, outcome: "preview" | ImportDone, width: number): string {
  const { creates } = report
  const preview = outcome === "preview"
  const title = addsNothing(report)
    ? nothingToAdd(report)
    : preview
      ? `Would add ${additionsText(report)}. Nothing was stored.`
      : `Added ${additionsText(report)}.`
  const made = [
    counted(creates.trips, "trip"),
    counted(creates.stops, "stop"),
    counted(creates.stints, "stint"),
    counted(creates.strikes, "strike"),
  ]
  const news = [
    [creates.anglers, "angler"],
    [creates.spots, "spot"],
    [creates.lure_classes, "lure class", "lure classes"],
    [creates.presentations, "presentation"],
    [creates.species, "species", "species"],
  ] as const
  const added = news.filter(([n]) => n > 0).map(([n, one, many]) => counted(n, one, many ?? `${one}s`))
  const tables = report.columns.length > 0
  const sections: string[][] = [
    [
      title,
      ...(tables
        ? [
            `${made.join(", ")}; ${round(report.rod_hours)} rod-hours, ${report.landed} fish landed, ` +
              `${counted(report.blank_trips, "blank trip")}.`,
          ]
        : []),
      ...(added.length > 0 ? [`New: ${added.join(", ")}.`] : []),
    ],
    ...report.readings.files.map(stationLines),
    ...report.tracks.files.map(trackLines),
  ]
  if (tables)
    sections.push([
      "Columns",
      ...report.columns.map(({ column, target, reading }) =>
        target === null ? `  ${column}: not used` : `  ${column}: ${reading}`,
      ),
    ])
  if (report.refused.length > 0)
    sections.push([
      `${counted(report.refused_rows, "row")} of ${report.records} cannot be taken:`,
      ...list(
        report.refused.map(
          ({ file, line, column, value, reason }) =>
            `${report.files.length > 1 ? `${file}, ` : ""}line ${line}${column === null ? "" : `, ${column}`}${value === null ? "" : ` "${value}"`}: ${reason}`,
        ),
        (rest) => `and ${rest} more (--json lists them all)`,
      ),
    ])
  if (report.already_there.length > 0)
    sections.push([
      `${counted(report.already_there.length, "row")} already there:`,
      ...list(
        report.already_there.map(({ line, of_line }) =>
          of_line === null ? `line ${line}: imported before` : `line ${line}: the same as line ${of_line}`,
        ),
        (rest) => `and ${rest} more`,
      ),
    ])
  if (report.conflicts.length > 0)
    sections.push([
      `${counted(report.conflicts.length, "row contradicts", "rows contradict")} another and ${report.conflicts.length === 1 ? "was" : "were"} left out:`,
      ...list(
        report.conflicts.map(
          ({ line, with_line, column, values }) =>
            `line ${line} against line ${with_line}: ${column} ${values.map((v) => v ?? "unknown").join(" or ")}`,
        ),
        (rest) => `and ${rest} more`,
      ),
    ])
  if (report.new_levels.length > 0)
    sections.push([
      "New words",
      ...report.new_levels.map(({ factor, levels }) => {
        const more = levels.length > 8 ? ` and ${levels.length - 8} more` : ""
        return `  ${factor}: ${levels.slice(0, 8).join(", ")}${more}`
      }),
    ])
  if (report.assumptions.length > 0)
    sections.push(["Assumed", ...report.assumptions.map((line) => `  ${line}`)])
  if (report.cautions.length > 0) sections.push(["Mind", ...report.cautions.map(({ text }) => `  ${text}`)])
  if (!preview && outcome.batch !== null) sections.push([`Import ${outcome.batch}`])
  return sections.map((lines) => wrapped(lines, width)).join("\n\n")
}

/** What a station's file holds and what of it is kept. */
function stationLines(file: ImportPlanReport["readings"]["files"][number]): string[] {
  const { first_at, last_at, rows, in_reach, kept } = file
  const range = first_at === null || last_at === null ? "" : `, ${utcText(first_at)} to ${utcText(last_at)}`
  const unused = file.columns.filter(({ target }) => target === null).map(({ column }) => column)
  return [
    `${file.file}: ${file.format}; ${counted(rows, "row")}${range}.`,
    `  ${in_reach} near a trip, ${kept} of them kept.`,
    ...file.columns
      .filter(({ target }) => target !== null)
      .map(
        ({ column, target, unit, missing }) =>
          `  ${column}: ${target}, from ${unit}${missing > 0 ? `; not measured in ${counted(missing, "row")}` : ""}`,
      ),
    ...(unused.length > 0 ? [`  Not kept: ${unused.join(", ")}.`] : []),
  ]
}

/** What a file of tracks holds and what of it is kept. */
function trackLines({ file, points, kept, tracks }: ImportPlanReport["tracks"]["files"][number]): string[] {
  return [
    `${file}: ${counted(tracks.length, "track")}; ${counted(points, "point")}, ${kept} of them kept.`,
    ...tracks.map(({ name, start_at, end_at, length_m, trip }) => {
      const times =
        start_at === null || end_at === null ? "no times" : `${utcText(start_at)} to ${utcText(end_at)}`
      const on = trip === null ? "no trip at that time" : `on the trip of ${trip}`
      return `  ${name ?? "a track without a name"}: ${(length_m / 1000).toFixed(1)} km, ${times}; ${on}`
    }),
  ]
}

/** What taking an import back did, at most `width` columns wide. */
export function takenBackText(result: TakenBack, width: number): string {
  const removed = Object.entries(result.removed).map(([entity, n]) => entityText(entity, n))
  const lines = [`Taken back: ${removed.length > 0 ? removed.join(", ") : "nothing"}.`]
  if (result.stayed.length > 0) {
    lines.push(`${counted(result.stayed.length, "row")} stayed:`)
    lines.push(
      ...list(
        result.stayed.map(({ what, id, why }) => `${what} ${id}: ${why}`),
        (rest) => `and ${rest} more`,
      ),
    )
  }
  return wrapped(lines, width)
}

const round = (value: number): string => String(Math.round(value * 100) / 100)
