import { counted as many, hoursFigure, listed } from "../../../shared/figures.ts"
import type { TripPage } from "../../../shared/trips.ts"
import type { Clock } from "../../charts/clock.ts"
import { tripParty } from "./list.ts"
import type { PageStint } from "./outcomeCells.ts"

const countedWords = [
  ["misses", "misses"],
  ["losses", "losses"],
  ["landed", "landed fish"],
  ["follows", "follows"],
  ["hang_ups", "hang-ups"],
] as const

const completenessWords = {
  complete: "Complete: all effort is in it.",
  partial: "Partial: some of the effort is missing.",
  "catches only": "Catches only: the effort is not known.",
} as const

/** What a trip was, in one breath: who, rods, when, effort, fish, what was counted, and how complete it is. */
export function sayPage(page: TripPage, clock: Clock): string {
  const stints = page.stops.flatMap((stop) => stop.stints)
  const when = whenOf(page, stints, clock)
  const parts = [tripParty(page), rodsOf(stints)].filter((part) => part !== "").join(", ")
  return [
    parts === "" ? "" : `${parts}.`,
    when === "" ? "" : `${when}.`,
    stints.length === 0 ? "" : `${tallyOf(page, stints)}.`,
    countedOf(page),
    page.status === "planned"
      ? "Planned."
      : page.status === "open"
        ? "Still open."
        : completenessWords[page.completeness],
    page.recorded === null ? "" : `Recorded ${page.recorded === "card" ? "on a card" : page.recorded}.`,
  ]
    .filter((part) => part !== "")
    .join(" ")
}

function rodsOf(stints: readonly PageStint[]): string {
  if (stints.length === 0) return ""
  const rods = stints.map((stint) => stint.rods)
  const [least, most] = [Math.min(...rods), Math.max(...rods)]
  return least === most ? many(most, "rod") : `${least} to ${most} rods`
}

function whenOf(page: TripPage, stints: readonly PageStint[], clock: Clock): string {
  const starts = [page.start_at ?? [], stints.flatMap(({ start_at }) => start_at ?? [])].flat()
  const ends = [page.end_at ?? [], stints.flatMap(({ end_at }) => end_at ?? [])].flat()
  if (starts.length === 0) return "No clock times"
  const from = Math.min(...starts)
  return ends.length === 0 ? `From ${clock.time(from)}` : clock.range(from, Math.max(...ends))
}

function tallyOf(page: TripPage, stints: readonly PageStint[]): string {
  const blank = stints.filter(({ landed }) => landed === 0).length
  return [
    page.rod_hours === null ? "Rod-hours not known" : `${hoursFigure(page.rod_hours)} rod-hours`,
    page.landed === null ? "fish not counted" : `${page.landed} fish`,
    blank === 0 ? null : `${blank} of ${many(stints.length, "stint")} blank`,
  ]
    .filter((part) => part !== null)
    .join(", ")
}

function countedOf({ counted }: TripPage): string {
  const of = (wanted: boolean) =>
    countedWords.filter(([id]) => counted[id] === wanted).map(([, word]) => word)
  const not = of(false)
  if (not.length === 0) return "Everything was counted."
  if (not.length === countedWords.length) return "Nothing was counted."
  return `Counted: ${listed(of(true), countedWords.length)}; not counted: ${listed(not, countedWords.length)}.`
}
