import { counted } from "../../../shared/figures.ts"
import type { TripListed } from "../../../shared/trips.ts"
import { dayLong, monthNames } from "../../charts/clock.ts"
import { fishOf, isBlank } from "./list.ts"

/** A day of the calendar with its trips together. `landed` is null where no trip of the day counted fish. */
export type SeasonDay = {
  readonly date: string
  /** From 1. */
  readonly month: number
  readonly day: number
  readonly landed: number | null
  readonly mark: "fish" | "blank" | "unknown" | "planned"
  readonly said: string
}

/** The years in which there are trips, latest first. */
export const yearsOf = (trips: readonly TripListed[]): string[] =>
  [...new Set(trips.map(({ date }) => date.slice(0, 4)))].toSorted().toReversed()

/** The latest year that has been fished, or failing that planned. */
export const latestYear = (trips: readonly TripListed[]): string =>
  yearsOf(trips.filter(({ status }) => status === "closed"))[0] ?? yearsOf(trips)[0] ?? ""

/** The days of a year that have trips, in order. */
export function seasonDays(trips: readonly TripListed[], year: string): SeasonDay[] {
  const days = Map.groupBy(
    trips.filter(({ date }) => date.startsWith(`${year}-`)),
    ({ date }) => date,
  )
  return [...days]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([date, ofDay]) => ({
      date,
      month: Number(date.slice(5, 7)),
      day: Number(date.slice(8, 10)),
      landed: landedOf(ofDay),
      mark: markOf(ofDay),
      said: `${dayLong(date)}: ${ofDay.map(sayFish).join("; ")}`,
    }))
}

function landedOf(trips: readonly TripListed[]): number | null {
  const known = trips.flatMap(({ landed }) => landed ?? [])
  return known.length === 0 ? null : known.reduce((sum, landed) => sum + landed, 0)
}

function markOf(trips: readonly TripListed[]): SeasonDay["mark"] {
  if ((landedOf(trips) ?? 0) > 0) return "fish"
  if (trips.every(isBlank)) return "blank"
  return trips.every(({ status }) => status === "planned") ? "planned" : "unknown"
}

function sayFish(trip: TripListed): string {
  const { figure, word } = fishOf(trip)
  const tally = /^\d+$/.test(figure) ? `${figure} fish` : figure
  return word === null ? tally : `${tally}, ${word}`
}

/** A year in words: how many trips, fish and blank trips, and the month with most trips. */
export function saySeason(trips: readonly TripListed[], year: string): string {
  const ofYear = trips.filter(({ date, status }) => date.startsWith(`${year}-`) && status !== "planned")
  if (ofYear.length === 0) return `${year}: no trips.`
  const byMonth = Map.groupBy(ofYear, ({ date }) => Number(date.slice(5, 7)))
  const [month, most] = [...byMonth].reduce((a, b) => (b[1].length > a[1].length ? b : a))
  const unknown = ofYear.filter(({ landed }) => landed === null).length
  return (
    `${year}: ${counted(ofYear.length, "trip")} on ${counted(new Set(ofYear.map(({ date }) => date)).size, "day")}, ` +
    `${landedOf(ofYear) ?? 0} fish, ${counted(ofYear.filter(isBlank).length, "blank trip")}` +
    `${unknown === 0 ? "" : `, ${unknown} not counted`}; most trips in ${monthNames("long")[month - 1] ?? ""} (${most.length}).`
  )
}
