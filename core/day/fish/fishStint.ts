import type { DayStint } from "../../../shared/day.ts"
import type { FishColumn } from "../../../shared/fishList.ts"
import { clockWords, instantAfter, readClock } from "../../tape/clock.ts"
import type { TapeContext } from "../../tape/context.ts"
import { named } from "../../tape/names.ts"
import { type Piece, Unreadable } from "../../tape/piece.ts"

/** How a strike's stint is written: its number in the day, and its presentation's code. */
export function stintText(stints: readonly DayStint[], at: number, { names }: TapeContext): string {
  const presentation = stints[at]?.presentation_id ?? null
  return presentation === null ? `${at + 1}` : `${at + 1} ${names.textOf("presentation", presentation)}`
}

/** Whether a stint was being fished then; not known where it has no clock. An end belongs to the stint after it, if there is one. */
const holds = ({ start_at, end_at }: DayStint, at: number, toEnd: boolean): boolean =>
  start_at !== null && start_at <= at && (end_at === null || (toEnd ? at <= end_at : at < end_at))

/** The first stint, the one at `own` before all others, that holds what `of` gives for it. */
function holding(
  stints: readonly DayStint[],
  own: number,
  of: (stint: DayStint) => number | null,
): { readonly stint: number; readonly at: number } | null {
  const order = [own, ...stints.keys()]
  for (const toEnd of [false, true])
    for (const stint of order) {
      const one = stints[stint]
      const at = one === undefined ? null : of(one)
      if (one !== undefined && at !== null && holds(one, at, toEnd)) return { stint, at }
    }
  return null
}

/**
 * The instant of a typed clock, and the stint it falls in: its own where it can, else another of the day. Throws Unreadable
 * where none was being fished then.
 */
export function clockOf(
  piece: Piece,
  stints: readonly DayStint[],
  own: number,
  { place }: TapeContext,
): { readonly at: number; readonly stint: number } {
  const clock = readClock(piece.text)
  if (clock === null) throw new Unreadable(piece, `"${piece.text}" is no clock. Write 645, 6:45 or 6:45p.`)
  const found = holding(stints, own, ({ start_at }) => {
    if (start_at === null) return null
    try {
      return instantAfter(piece, clock, start_at, place)
    } catch (error) {
      if (error instanceof Unreadable) return null
      throw error
    }
  })
  if (found !== null) return found
  if (stints[own]?.start_at == null) return { at: instantAfter(piece, clock, null, place), stint: own }
  throw new Unreadable(piece, `No stint of the day was being fished at ${piece.text}.`)
}

/**
 * The stint that a typed text names: `3`, `3 tw`, or the code of a presentation that only one stint has, or only one that was
 * being fished at the strike's time. Throws Unreadable.
 */
export function choosesStint(
  piece: Piece,
  stints: readonly DayStint[],
  at: number | null,
  context: TapeContext,
): number {
  const [, number] = /^(\d+)(?:\s|$)/.exec(piece.text) ?? []
  const chosen = number === undefined ? byCode(piece, stints, at, context) : Number(number) - 1
  const stint = stints[chosen]
  if (stint === undefined)
    throw new Unreadable(
      piece,
      `There is no stint ${number}: the day has ${stints.length}.`,
      stints.map((_, i) => stintText(stints, i, context)).slice(0, 12),
    )
  if (at !== null && stint.start_at !== null && !holds(stint, at, true))
    throw new Unreadable(
      piece,
      `At ${clockWords(at, context.place.zone)}, when this came, that stint was not being fished. Mend the time first.`,
    )
  return chosen
}

function byCode(piece: Piece, stints: readonly DayStint[], at: number | null, context: TapeContext): number {
  const { id } = named(piece, ["presentation"], context.names)
  const all = stints.flatMap((stint, i) => (stint.presentation_id === id ? [i] : []))
  const then = all.filter((i) => at !== null && stints[i] !== undefined && holds(stints[i], at, true))
  const [only, more] = then.length > 0 ? then : all
  if (only !== undefined && more === undefined) return only
  throw new Unreadable(
    piece,
    only === undefined
      ? `No stint of the day was fished with ${piece.text}.`
      : `Several stints were fished with ${piece.text}: write the number of one.`,
    all.map((i) => stintText(stints, i, context)),
  )
}

/** The stint of a new strike, by what is typed of it; `beside` where that does not tell. */
export function stintAt(
  cells: Partial<Record<FishColumn, string>>,
  stints: readonly DayStint[],
  beside: number,
  context: TapeContext,
): number {
  const piece = (text: string | undefined): Piece => ({ text: (text ?? "").trim(), at: 0 })
  const readers = [
    () => choosesStint(piece(cells.stint), stints, null, context),
    () => clockOf(piece(cells.at), stints, beside, context).stint,
  ]
  for (const read of readers)
    try {
      return read()
    } catch (error) {
      if (!(error instanceof Unreadable)) throw error
    }
  return beside
}
