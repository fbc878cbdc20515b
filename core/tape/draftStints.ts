import { tickMinutes } from "../../shared/notation.ts"
import type { DayStint } from "../../shared/day.ts"
import { settled } from "./amount.ts"
import { longestMs, minuteMs, sourceOf } from "./effort.ts"
import type { Carried, Lane } from "./lanes.ts"
import type { LineParts } from "./lineParts.ts"
import type { Opening } from "./opening.ts"
import { type Piece, Unreadable } from "./piece.ts"
import { cadenceOf, noCadence } from "./cadence.ts"
import type { Part } from "./presentation.ts"
import { type Came, nothingCame } from "./came.ts"
import type { Run } from "./strip.ts"

/** How long a tick of a strip is, ms. */
export const tickMs = tickMinutes * minuteMs

/**
 * The stints that a line opens, not yet in the day: its presentations, or those that carry on in its lane. `when` in UTC ms;
 * `groupsBefore` keeps the names of shared efforts apart. Throws Unreadable where more minutes are said than there is room for.
 */
export function draftStints(
  lane: Lane,
  token: Piece,
  opening: Opening,
  line: LineParts,
  when: { at: number | null; end: number | null; about: boolean },
  groupsBefore: number,
): DayStint[] {
  const { more } = line
  const parts = line.parts.length > 0 ? line.parts : carriedParts(lane.carried, line.came)
  const groups = Map.groupBy(parts, ({ group }) => group)
  const order = [...groups.keys()]
  const given = opening.kind === "minutes" ? opening.minutes : null
  const span = given ?? (when.at === null || when.end === null ? null : (when.end - when.at) / minuteMs)
  const rest = more.break_minutes ?? 0
  if (more.break_minutes !== null && when.at === null)
    throw new Unreadable(token, "A rest is taken off a clock's time: this line has no clock.")
  const said = [more.fished ?? 0, ...[...groups.values()].map((group) => sum(group))]
  if (span !== null && (rest >= span || said.some((minutes) => minutes > span - rest + 1e-6)))
    throw new Unreadable(token, `More minutes are said than there is room for in ${settled(span)}.`)
  if (span !== null && span * minuteMs > longestMs)
    throw new Unreadable(token, "A stint is no longer than a day.")
  return parts.map(({ part: one, group }) => {
    const together = groups.get(group) ?? []
    const shares = together.length > 1
    const own = one.minutes ?? more.fished
    const even = span === null ? null : (span - rest) / together.length
    const effort = shares ? (own ?? even) : (own ?? given)
    return {
      id: null,
      stop: 0,
      angler_id: lane.angler_id,
      presentation_id: one.presentation_id,
      ...one.cadence,
      start_at: when.at,
      start_about: when.about ? 1 : null,
      end_at: when.end,
      effort_minutes: effort === null ? null : settled(effort),
      break_minutes: more.break_minutes,
      effort_source: sourceOf(more, shares, own ?? given, when),
      share_group: more.group ?? (shares ? `${groupsBefore + order.indexOf(group) + 1}` : null),
      rods: one.rods ?? lane.rods(groups.size),
      sight: more.sight,
      fished_depth_m: more.fished_depth_m,
      counted_misses: more.counted_misses,
      counted_losses: more.counted_losses,
      counted_follows: more.counted_follows,
      counted_hang_ups: more.counted_hang_ups,
      counted_landed: more.counted_landed,
      follows: one.came.follows,
      hang_ups: one.came.hang_ups,
      lures_lost: one.came.lures_lost,
      why_changed: more.why_changed,
      notes: more.notes,
      strikes: one.came.strikes,
    }
  })
}

/** The stints of a ten-minute strip that begins at `from`, UTC ms, one a run of ticks. Throws Unreadable. */
export function draftStrip(
  lane: Lane,
  token: Piece,
  opening: Opening,
  line: LineParts,
  runs: readonly Run[],
  start: { from: number; about: boolean },
  groupsBefore: number,
): DayStint[] {
  return runs.flatMap((run) => {
    const part: Part = {
      presentation_id: run.presentation_id,
      cadence: noCadence,
      rods: null,
      minutes: null,
      came: run.came,
    }
    const at = start.from + run.tick * tickMs
    const when = { at, end: at + run.ticks * tickMs, about: start.about && run.tick === 0 }
    const more = { ...line.more, ticked: true }
    return draftStints(
      lane,
      token,
      opening,
      { ...line, more, parts: [{ part, group: 0 }] },
      when,
      groupsBefore,
    )
  })
}

/** What the next line of the lane carries on from these stints of one line. */
export const carriedFrom = (drafts: readonly DayStint[]): Carried[] =>
  drafts.map((draft, i) => carriedOf(draft, groupOf(drafts, i)))

const sum = (group: readonly { part: Part }[]): number =>
  group.reduce((total, { part: { minutes } }) => total + (minutes ?? 0), 0)

function carriedParts(carried: readonly Carried[], came: Came | null): { part: Part; group: number }[] {
  if (carried.length === 0) {
    const part = { presentation_id: null, cadence: noCadence, rods: null, minutes: null }
    return [{ part: { ...part, came: came ?? nothingCame() }, group: 0 }]
  }
  return carried.map(({ group, ...one }, i) => ({
    group,
    part: { ...one, minutes: null, came: i === carried.length - 1 ? (came ?? nothingCame()) : nothingCame() },
  }))
}

/** Parts of a shared effort are one group; others are each their own. */
function groupOf(drafts: readonly DayStint[], i: number): number {
  const group = drafts[i]?.share_group ?? null
  return group === null ? i : drafts.findIndex(({ share_group }) => share_group === group)
}

function carriedOf(stint: DayStint, group: number): Carried {
  return {
    presentation_id: stint.presentation_id,
    cadence: cadenceOf(stint),
    rods: stint.rods,
    group,
  }
}
