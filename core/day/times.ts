import type { DayStint } from "../../shared/day.ts"
import { counted } from "../../shared/figures.ts"
import type { SheetTime } from "../../shared/sheet.ts"
import { clockText, clockWords } from "../tape/clock.ts"
import type { TapeContext } from "../tape/context.ts"

type Fix = SheetTime["fixes"][number]
const minuteMs = 60_000

/**
 * Where two rows of one angler leave time between them, or share some. Two rods at once, rows with one and the same clock, is
 * neither. A gap may well be right: its sentence only says so. One that several anglers have is told once, before the first
 * of their rows, and mended for all of them.
 */
export function timesOf(stints: readonly DayStint[], context: TapeContext): SheetTime[] {
  const lanes = Map.groupBy(
    stints.flatMap((stint) => (stint.start_at === null ? [] : [{ ...stint, start_at: stint.start_at }])),
    ({ angler_id }) => angler_id,
  )
  const all = [...lanes.values()].flatMap((lane) =>
    lane.flatMap((stint, i) => timeBefore(stint, lane[i - 1], context)),
  )
  const alike = Map.groupBy(all, ({ kind, from, to, row }) => (kind === "gap" ? `${from} ${to}` : row))
  return [...alike.values()].flatMap(together)
}

/** The same gap of several lanes as one, each fix for all of them. */
function together(times: readonly SheetTime[]): SheetTime[] {
  const [first] = times
  if (first === undefined || times.length === 1) return [...times]
  const fixes = first.fixes.map(({ label }, i) => ({
    label: label.replace("the row above", "the rows above").replace("this row", "these rows"),
    edits: times.flatMap((time) => time.fixes[i]?.edits ?? []),
  }))
  return [{ ...first, fixes }]
}

type Clocked = DayStint & { readonly start_at: number }

function timeBefore(stint: Clocked, above: Clocked | undefined, context: TapeContext): SheetTime[] {
  const { zone } = context.place
  if (above?.end_at == null || stint.id === null || above.id === null) return []
  const atOnce = above.start_at === stint.start_at && above.end_at === stint.end_at
  if (atOnce || above.end_at === stint.start_at) return []
  const [from, to] = [above.end_at, stint.start_at]
  const length = counted(Math.round(Math.abs(to - from) / minuteMs), "minute")
  if (to > from)
    return [
      {
        kind: "gap",
        row: stint.id,
        from,
        to,
        sentence: `Nothing is written from ${clockWords(from, zone)} to ${clockWords(to, zone)}, ${length}.`,
        fixes: [endAbove(above, stint, context), startBelow(above, stint, context)],
      },
    ]
  return [
    {
      kind: "overlap",
      row: stint.id,
      from: to,
      to: Math.min(from, stint.end_at ?? from),
      sentence: `This row begins at ${clockWords(to, zone)}, while the one above runs to ${clockWords(from, zone)}.`,
      fixes: [
        ...(to > above.start_at ? [endAbove(above, stint, context)] : []),
        ...(stint.end_at === null || stint.end_at > from ? [startBelow(above, stint, context)] : []),
      ],
    },
  ]
}

function endAbove(above: Clocked, { start_at }: Clocked, context: TapeContext): Fix {
  const text = clockText(start_at, above.start_at, context.place)
  return {
    label: `End the row above at ${clockWords(start_at, context.place.zone)}`,
    edits: [{ do: "set", row: above.id ?? "", column: "end", text }],
  }
}

function startBelow(above: Clocked, stint: Clocked, context: TapeContext): Fix {
  const at = above.end_at ?? stint.start_at
  return {
    label: `Begin this row at ${clockWords(at, context.place.zone)}`,
    edits: [
      { do: "set", row: stint.id ?? "", column: "start", text: clockText(at, above.start_at, context.place) },
    ],
  }
}
