import { wrapText } from "./textTable.ts"
import type { ImportDone, ImportPlanReport, TakenBack } from "../../shared/imports.ts"

const shown = 20
const plural = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`
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

const nothingToAdd = ({ already_there, records }: ImportPlanReport): string =>
  already_there.length === records
    ? `Nothing to add: all ${plural(records, "row")} were there already.`
    : "Nothing to add."

/** What an import will do, or did, as a page for the terminal, at most `width` columns wide. */
export function importText(report: ImportPlanReport, outcome: "preview" | ImportDone, width: number): string {
  const { creates } = report
  const preview = outcome === "preview"
  const title = preview
    ? `Would add ${plural(creates.stints, "stint")}. Nothing was stored.`
    : outcome.batch === null
      ? nothingToAdd(report)
      : `Added ${plural(creates.stints, "stint")}.`
  const made = [
    plural(creates.trips, "trip"),
    plural(creates.stops, "stop"),
    plural(creates.stints, "stint"),
    plural(creates.strikes, "strike"),
  ]
  const news = [
    [creates.anglers, "angler"],
    [creates.spots, "spot"],
    [creates.lure_classes, "lure class", "lure classes"],
    [creates.presentations, "presentation"],
    [creates.species, "species", "species"],
  ] as const
  const added = news.filter(([n]) => n > 0).map(([n, one, many]) => plural(n, one, many ?? `${one}s`))
  const sections: string[][] = [
    [
      title,
      `${made.join(", ")}; ${round(report.rod_hours)} rod-hours, ${report.landed} fish landed, ` +
        `${plural(report.blank_trips, "blank trip")}.`,
      ...(added.length > 0 ? [`New: ${added.join(", ")}.`] : []),
    ],
    [
      "Columns",
      ...report.columns.map(({ column, target, reading }) =>
        target === null ? `  ${column}: not used` : `  ${column}: ${reading}`,
      ),
    ],
  ]
  if (report.refused.length > 0)
    sections.push([
      `${plural(report.refused_rows, "row")} of ${report.records} cannot be taken:`,
      ...list(
        report.refused.map(
          ({ line, column, value, reason }) =>
            `line ${line}${column === null ? "" : `, ${column}`}${value === null ? "" : ` "${value}"`}: ${reason}`,
        ),
        (rest) => `and ${rest} more (--json lists them all)`,
      ),
    ])
  if (report.already_there.length > 0)
    sections.push([
      `${plural(report.already_there.length, "row")} already there:`,
      ...list(
        report.already_there.map(({ line, of_line }) =>
          of_line === null ? `line ${line}: imported before` : `line ${line}: the same as line ${of_line}`,
        ),
        (rest) => `and ${rest} more`,
      ),
    ])
  if (report.conflicts.length > 0)
    sections.push([
      `${plural(report.conflicts.length, "row contradicts", "rows contradict")} another and ${report.conflicts.length === 1 ? "was" : "were"} left out:`,
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

/** What taking an import back did, at most `width` columns wide. */
export function takenBackText(result: TakenBack, width: number): string {
  const removed = Object.entries(result.removed).map(([entity, n]) => `${n} ${entity.replaceAll("_", " ")}`)
  const lines = [`Taken back: ${removed.length > 0 ? removed.join(", ") : "nothing"}.`]
  if (result.stayed.length > 0) {
    lines.push(`${plural(result.stayed.length, "row")} stayed:`)
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
