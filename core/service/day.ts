import type { Handlers, Output, Parsed } from "../../shared/api.ts"
import type { DayRead, DaySaved, DayStint } from "../../shared/day.ts"
import { counted, listed } from "../../shared/figures.ts"
import { ProblemError } from "../../shared/problems.ts"
import { mergeDays } from "../day/merge.ts"
import { dayTotals } from "../day/totals.ts"
import { sayDone } from "../day/words.ts"
import type { Logbook } from "../store/logbook.ts"
import { nameAct } from "../store/nameAct.ts"
import type { OpenChange } from "../store/put.ts"
import { zoneOfSpot } from "../store/read/spots.ts"
import { codedRows } from "../store/read/codes.ts"
import { canonicalDay, sameDay } from "../tape/canonical.ts"
import { clockWords } from "../tape/clock.ts"
import { completionsAt } from "../tape/complete.ts"
import type { TapeContext } from "../tape/context.ts"
import { namesOf } from "../tape/names.ts"
import { printTape } from "../tape/printer.ts"
import type { TapeDay } from "../tape/reader.ts"
import { readTape, tellTape } from "../tape/tape.ts"
import { contextOf, requireDay } from "./dayContext.ts"
import { keepEdited } from "./keepEdited.ts"
import type { Queue } from "./queue.ts"
import { settingsIn } from "./settings.ts"
import { today } from "./today.ts"
import { makeTrip } from "./tripActs.ts"

type Area = Pick<Handlers, "day.read" | "day.save" | "day.log" | "tape.read">

/** A day on the tape: read as it is typed, kept, and printed again. */
export const dayHandlers = (book: Logbook, queue: Queue, change: Queue): Area => ({
  "day.read": ({ trip }) => queue(async () => book.read((db) => readDay(db, trip))),
  "day.save": ({ trip, was, text }) =>
    change(async () => book.change((open) => saveTape(open, trip, was, text))),
  "day.log": (wanted) => change(async () => book.change((open) => logDay(open, wanted))),
  "tape.read": ({ trip, date, spot, anglers, text, caret }) =>
    queue(async () =>
      book.read((db) => {
        const context = trip === null ? newDay(db, date, spot, anglers) : contextOf(db, requireDay(db, trip))
        const { day, lines } = tellTape(text, context)
        return {
          lines,
          totals: dayTotals(day.stints),
          completions:
            caret === null ? null : completionsAt(text, Math.min(caret, text.length), context.names),
        }
      }),
    ),
})

/** The context of a day that is no trip yet. */
function newDay(
  db: OpenChange["db"],
  date: string | null,
  spot: string | null,
  anglers: readonly string[],
): TapeContext {
  const rows = codedRows(db)
  const zone = spot === null ? null : zoneOfSpot(db, spot)
  const { home_zone, units } = settingsIn(db)
  const place = zone ?? home_zone ?? "UTC"
  return {
    place: { date: date ?? today(place), zone: place, start_at: null },
    names: namesOf(rows),
    reader: units,
    first_angler: anglers[0] ?? null,
    anglers: anglers.length,
    first_spot: spot,
  }
}

function readDay(db: OpenChange["db"], trip: string): DayRead {
  const day = requireDay(db, trip)
  return { day, tape: printTape(day, contextOf(db, day)), totals: dayTotals(day.stints) }
}

/**
 * Keeps a typed tape as the trip's day. `was` is the tape it was typed from. Throws ProblemError "changed_since", and changes
 * nothing, where a stint was changed here and elsewhere.
 */
function saveTape(open: OpenChange, trip: string, was: string, text: string): DaySaved {
  const stored = requireDay(open.db, trip)
  const context = contextOf(open.db, stored)
  const mine = readTape(text, context).day
  const theirs = canonicalDay(stored)
  const base = readTape(was, context).day
  const { day, told } = sameDay(base, tapeOnly(theirs))
    ? { day: mine, told: [] }
    : together(base, mine, theirs, context)
  const { act, said } = keepEdited(open, { trip, stored, wanted: day }, "tape", (done) =>
    sayDone(done, "typed"),
  )
  return { ...readDay(open.db, trip), act, said, merged: told }
}

/** A whole day at once, as a new trip. Throws ProblemError "bad_input", and keeps nothing, where anything is not clear. */
function logDay(open: OpenChange, { date, place, anglers, text }: Parsed<"day.log">): Output<"day.log"> {
  const names = namesOf(codedRows(open.db))
  const idOf = (kind: "spot" | "angler", said: string): string => {
    const found = names.find(said, [kind]) ?? names.find(`[${said}]`, [kind])
    if (found !== null) return found.id
    throw new ProblemError("bad_input", `There is no ${kind} "${said}" in this logbook.`, { [kind]: said })
  }
  const spot = place === null ? null : idOf("spot", place)
  const zone = (spot === null ? null : zoneOfSpot(open.db, spot)) ?? settingsIn(open.db).home_zone ?? "UTC"
  const trip = makeTrip(open, {
    date,
    zone,
    start_at: null,
    spot,
    anglers: anglers.map((angler) => idOf("angler", angler)),
    target: null,
  })
  const { lines } = tellTape(text, contextOf(open.db, requireDay(open.db, trip)))
  const unclear = lines.flatMap(({ unclear: why }, i) => (why === null ? [] : [{ line: i + 1, ...why }]))
  if (unclear.length > 0)
    throw new ProblemError(
      "bad_input",
      `Nothing was kept. ${unclear.map(({ line, sentence }) => `Line ${line}: ${sentence}`).join(" ")}`,
      { unclear },
    )
  const { totals } = saveTape(open, trip, "", text)
  const said = `day of ${date} typed, ${counted(totals.stints, "stint")}`
  nameAct(open, said)
  return { trip, act: open.batch, said, lines, totals }
}

/** Unread cells of the sheet are no part of a tape. */
const tapeOnly = (day: TapeDay): TapeDay => ({
  ...day,
  unread: day.unread.filter(({ place }) => place === "tape"),
})

function together(
  base: TapeDay,
  mine: TapeDay,
  theirs: TapeDay,
  context: TapeContext,
): { day: TapeDay; told: string[] } {
  const merged = mergeDays(base, mine, theirs)
  if (merged.kind === "merged") return merged
  throw new ProblemError(
    "changed_since",
    `${listed(merged.stints.map((stint) => stintWords(stint, context)))} ${merged.stints.length === 1 ? "was" : "were"} changed here and elsewhere meanwhile. Nothing was saved: your text is as you typed it; look at the day as it stands now, then save again.`,
    { stints: merged.stints.map(({ id }) => id) },
  )
}

const stintWords = ({ start_at, presentation_id }: DayStint, { names, place }: TapeContext): string =>
  `The stint ${start_at === null ? "without a clock" : `of ${clockWords(start_at, place.zone)}`}${presentation_id === null ? "" : `, ${names.nameOf(presentation_id)},`}`
