import type { DayStint } from "../../shared/day.ts"
import { emptyStint } from "./newStint.ts"
import { addStop } from "./stops.ts"
import { cadenceOf, noCadence } from "../tape/cadence.ts"
import { ProblemError } from "../../shared/problems.ts"
import type { CodeKind } from "../../shared/codes.ts"
import type { LogAct, Running } from "../../shared/runningLog.ts"
import { readAmount } from "../tape/amount.ts"
import { type TapeContext, usualRods } from "../tape/context.ts"
import { readReason } from "../tape/more.ts"
import { Unreadable } from "../tape/piece.ts"
import type { TapeDay } from "../tape/reader.ts"
import { withTimes } from "./edits.ts"

const minuteMs = 60_000

/** Whether a stint is under way: begun, not ended, its minutes not given. */
const isRunning = ({ start_at, end_at, effort_minutes }: DayStint): boolean =>
  start_at !== null && end_at === null && effort_minutes === null

/** The stints that run, each with what was marked so far. */
export const runningIn = ({ stints, stops }: TapeDay): Running[] =>
  stints.filter(isRunning).flatMap((stint) => {
    const { id, start_at } = stint
    if (id === null || start_at === null) return []
    const fates = (fate: string): number => stint.strikes.filter((strike) => strike.fate === fate).length
    return [
      {
        stint: id,
        angler: stint.angler_id,
        spot: stops[stint.stop]?.spot_id ?? null,
        presentation: stint.presentation_id,
        rods: stint.rods,
        start_at,
        marks: {
          follow: stint.follows ?? 0,
          miss: fates("missed"),
          loss: fates("lost"),
          "bitten off": fates("bitten off"),
          landed: fates("landed"),
          "hang-up": stint.hang_ups ?? 0,
          "lure lost": stint.lures_lost ?? 0,
        },
      },
    ]
  })

/** A day after one key of the running log, and the key in words. Throws ProblemError "bad_input" for what cannot be done. */
export function logged(
  day: TapeDay,
  act: LogAct,
  now: number,
  context: TapeContext,
): { day: TapeDay; said: string } {
  const after = structuredClone(day)
  try {
    const said = carryOut(after, act, now, context)
    return { day: { ...after, stops: withTimes(day, after) }, said }
  } catch (error) {
    if (error instanceof Unreadable)
      throw new ProblemError("bad_input", error.message, { unclear: error.unclear })
    throw error
  }
}

function carryOut(day: TapeDay, act: LogAct, now: number, context: TapeContext): string {
  switch (act.do) {
    case "start":
      return start(day, act, now, context)
    case "mark":
      return mark(day, act, now, context)
    case "stop": {
      const stint = stintOf(day, act.stint)
      if (!isRunning(stint))
        throw new ProblemError("bad_input", "That stint was stopped before.", { stint: act.stint })
      stint.end_at = momentAfter(stint.start_at ?? now, now)
      return "stint stopped"
    }
  }
}

/** The full minute, or the very second where the minute is that of what came before. */
function momentAfter(before: number, now: number): number {
  const minute = Math.floor(now / minuteMs) * minuteMs
  if (minute > before) return minute
  return Math.max(Math.floor(now / 1000) * 1000, before + 1000)
}

function start(
  day: TapeDay,
  act: Extract<LogAct, { do: "start" }>,
  now: number,
  context: TapeContext,
): string {
  const angler_id = act.angler === undefined ? context.first_angler : thing(act.angler, "angler", context)
  const last = day.stints.findLast((stint) => stint.angler_id === angler_id)
  const running = day.stints.filter((stint) => isRunning(stint) && stint.angler_id === angler_id)
  const started = Math.max(...running.map((stint) => stint.start_at ?? 0), 0)
  const minute = Math.floor(now / minuteMs) * minuteMs
  const moment = running.length > 0 ? momentAfter(started, now) : Math.max(minute, last?.end_at ?? 0)
  for (const stint of running) stint.end_at = moment
  if (act.why !== undefined)
    for (const stint of running) stint.why_changed = readReason({ text: act.why, at: 0 })
  const presentation_id =
    act.presentation === undefined
      ? (last?.presentation_id ?? null)
      : thing(act.presentation, "presentation", context)
  const same = act.presentation === undefined && last !== undefined
  day.stints.push({
    ...emptyStint,
    strikes: [],
    stop: stopFor(day, act.spot === undefined ? null : thing(act.spot, "spot", context), context),
    angler_id,
    start_at: moment,
    effort_source: "clocked",
    rods: act.rods ?? last?.rods ?? usualRods(angler_id, context),
    ...(same ? cadenceOf(last) : noCadence),
    presentation_id,
  })
  const name = presentation_id === null ? "stint" : context.names.nameOf(presentation_id)
  return running.length > 0 && act.presentation !== undefined ? `changed to ${name}` : `${name} started`
}

/** The stop where one is, or a new one where another spot is said. */
function stopFor(day: TapeDay, spot: string | null, { first_spot }: TapeContext): number {
  const here = day.stints.at(-1)?.stop ?? day.stops.length - 1
  const stop = day.stops[here]
  if (stop !== undefined && (spot === null || stop.spot_id === spot)) return here
  return addStop(day, spot ?? first_spot)
}

const fates = {
  miss: "missed",
  loss: "lost",
  "bitten off": "bitten off",
  landed: "landed",
} as const
const counters = { follow: "follows", "hang-up": "hang_ups", "lure lost": "lures_lost" } as const

function mark(day: TapeDay, act: Extract<LogAct, { do: "mark" }>, now: number, context: TapeContext): string {
  const stint = stintOf(day, act.stint)
  const species_id = act.species === undefined ? null : thing(act.species, "species", context)
  if (act.mark === "follow" || act.mark === "hang-up" || act.mark === "lure lost") {
    const column = counters[act.mark]
    stint[column] = (stint[column] ?? 0) + 1
    return `${act.mark} marked`
  }
  const landed = act.mark === "landed"
  const length =
    landed && act.length !== undefined && act.length.trim() !== "" && act.length !== "?"
      ? act.length.trim()
      : null
  stint.strikes.push({
    id: null,
    fate: fates[act.mark],
    species_id,
    at: Math.max(Math.floor(now / minuteMs) * minuteMs, stint.start_at ?? 0),
    took_on: null,
    length_mm: length === null ? null : readAmount({ text: length, at: 0 }, "mm", context.reader),
    weight_g: null,
    kept: !landed || act.kept === undefined ? null : act.kept ? 1 : 0,
    hooked_where: null,
  })
  const name = species_id === null ? "" : `${context.names.nameOf(species_id)} `
  return `${name}${landed ? "landed" : act.mark} marked`
}

function stintOf(day: TapeDay, id: string): DayStint {
  const stint = day.stints.find((one) => one.id === id)
  if (stint === undefined)
    throw new ProblemError("bad_input", "That stint is no longer in this trip.", { stint: id })
  return stint
}

/** A thing by its code or its id. Throws ProblemError "bad_input". */
function thing(text: string, kind: CodeKind, { names }: TapeContext): string {
  const found = names.find(text, [kind]) ?? (names.byId(text)?.kind === kind ? names.byId(text) : null)
  if (found !== null) return found.id
  throw new ProblemError("bad_input", `"${text}" is no ${kind} of yours: write its code.`, { kind, text })
}
