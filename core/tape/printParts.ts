import type { DayStint } from "../../shared/day.ts"
import { cadenceColumns } from "./cadence.ts"
import { settled } from "./amount.ts"
import { minuteMs } from "./effort.ts"
import type { Lane } from "./lanes.ts"
import { presentationText, rodsText, shareText, withCame } from "./presentation.ts"
import { type CameContext } from "./came.ts"
import { cameTokens } from "./printStrikes.ts"

/** Presentations with what came of them; the presentations only where they do not carry on. */
export function partsText(lane: Lane, stints: readonly DayStint[], context: CameContext): string {
  const shared = stints.filter(({ share_group }) => share_group !== null)
  const alone = stints.length === 1
  const minutes = (stint: DayStint): number | null =>
    stint.share_group === null || alone || isEven(stint, stints) ? null : stint.effort_minutes
  const says = shared.some((stint) => minutes(stint) !== null)
  const early = stints.slice(0, -1).some((stint) => cameTokens(stint, context).length > 0)
  if (!says && !early && carriesOn(lane, stints)) {
    const last = stints.at(-1)
    return last === undefined ? "" : withCame("", last, context)
  }
  const usual = lane.rods(atOnce(stints))
  return stints
    .map((stint, i) => {
      const text = `${presentationText(stint, context.names)}${rodsText(stint.rods, usual)}${shareText(minutes(stint))}`
      const before = stints[i - 1]
      const joint =
        before === undefined
          ? ""
          : stint.share_group !== null && stint.share_group === before.share_group
            ? "+"
            : "|"
      return { joint, text: withCame(text, stint, context) }
    })
    .reduce((line, { joint, text }) => {
      if (joint === "") return text
      return line.includes(" ") || text.includes(" ") ? `${line} ${joint} ${text}` : `${line}${joint}${text}`
    }, "")
}

/** Whether a shared stint has an even part of its group's stretch, as the reader would give it. */
function isEven(stint: DayStint, stints: readonly DayStint[]): boolean {
  const { effort_minutes: effort, start_at: start, end_at: end } = stint
  const group = stints.filter(({ share_group }) => share_group === stint.share_group)
  const given = group.reduce((sum, { effort_minutes }) => sum + (effort_minutes ?? 0), 0)
  const room = start === null || end === null ? given : (end - start) / minuteMs - (stint.break_minutes ?? 0)
  if (start !== null && end === null) return effort === null
  return effort === null ? start === null : settled(room / group.length) === settled(effort)
}

/** Whether a line's presentations are just those that carry on in its lane. */
function carriesOn(lane: Lane, stints: readonly DayStint[]): boolean {
  if (lane.carried.length !== stints.length)
    return stints.length === 1 && lane.carried.length === 0 && isUnsaid(stints[0], lane.rods(1))
  const groups = stints.map(({ share_group }) => share_group)
  return stints.every((stint, i) => {
    const carried = lane.carried[i]
    if (carried === undefined) return false
    const { cadence } = carried
    const sharing = groups[i] !== null && groups.filter((group) => group === groups[i]).length > 1
    const shares = lane.carried.filter(({ group }) => group === carried.group).length > 1
    return (
      carried.presentation_id === stint.presentation_id &&
      carried.rods === stint.rods &&
      sharing === shares &&
      (!sharing ||
        lane.carried.findIndex(({ group }) => group === carried.group) ===
          groups.indexOf(groups[i] ?? null)) &&
      cadenceColumns.every((column) => cadence[column] === stint[column])
    )
  })
}

/** How many presentations of a line are fished at once: those of one shared effort are one after the other. */
const atOnce = (stints: readonly DayStint[]): number =>
  stints.filter(
    ({ share_group }, i) =>
      share_group === null || stints.findIndex((other) => other.share_group === share_group) === i,
  ).length

const isUnsaid = (stint: DayStint | undefined, usual: number): boolean =>
  stint !== undefined &&
  stint.presentation_id === null &&
  stint.rods === usual &&
  cadenceColumns.every((column) => stint[column] === null)
