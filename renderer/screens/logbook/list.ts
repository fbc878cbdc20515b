import { counted, figure, hoursFigure, listed } from "../../../shared/figures.ts"
import type { TripListed } from "../../../shared/trips.ts"
import { dayLong } from "../../charts/clock.ts"

/** The orders of the list, by what its user reads. */
export const orders = [
  { id: "latest", label: "latest first" },
  { id: "earliest", label: "earliest first" },
  { id: "rod_hours", label: "most rod-hours first" },
  { id: "landed", label: "most fish first" },
  { id: "rate", label: "most fish per rod-hour first" },
] as const
export type Order = (typeof orders)[number]["id"]

export const isOrder = (word: string): word is Order => orders.some(({ id }) => id === word)

/** Fish per rod-hour of one trip's tally; null where a part is unknown or the trip is not over or not complete. */
function tripRate({ status, completeness, landed, rod_hours }: TripListed): number | null {
  if (status !== "closed" || completeness !== "complete") return null
  return landed === null || rod_hours === null || rod_hours === 0 ? null : landed / rod_hours
}

/** The trips of a list that is sorted latest first, in another order; what is unknown comes last. */
export function inOrder(trips: readonly TripListed[], order: Order): readonly TripListed[] {
  switch (order) {
    case "latest":
      return trips
    case "earliest":
      return trips.toReversed()
    case "rod_hours":
      return mostFirst(trips, ({ rod_hours }) => rod_hours)
    case "landed":
      return mostFirst(trips, ({ landed }) => landed)
    case "rate":
      return mostFirst(trips, tripRate)
  }
}

const mostFirst = (
  trips: readonly TripListed[],
  of: (trip: TripListed) => number | null,
): readonly TripListed[] => trips.toSorted((a, b) => (of(b) ?? -1) - (of(a) ?? -1))

/** Letters without their marks, in lower case: "Café" is found by "cafe". */
const folded = (text: string): string => text.normalize("NFD").replaceAll(/\p{M}/gu, "").toLowerCase()

const haystacks = new WeakMap<TripListed, string>()

function haystackOf(trip: TripListed): string {
  const known = haystacks.get(trip)
  if (known !== undefined) return known
  const { label, target, notes, spots, anglers, date } = trip
  const made = folded([label, target, notes, ...spots, ...anglers, date, dayLong(date)].join("\n"))
  haystacks.set(trip, made)
  return made
}

/** The trips in which every word is found: in label, spots, anglers, target, notes or date. */
export function found(trips: readonly TripListed[], search: string): readonly TripListed[] {
  const words = folded(search).split(/\s+/).filter(Boolean)
  if (words.length === 0) return trips
  return trips.filter((trip) => {
    const text = haystackOf(trip)
    return words.every((word) => text.includes(word))
  })
}

/** What a trip is called: by its label, else by its spots. */
export const tripName = ({ label, spots }: TripListed): string =>
  label ?? (spots.length === 0 ? "no spot noted" : listed(spots))

/** Who fished, why and for what: "Nell and Adair, guided, for red drum". */
export const tripParty = ({ anglers, purpose, target }: TripListed): string =>
  [
    anglers.length === 0 ? null : listed(anglers),
    purpose === null || purpose === "own" ? null : purpose,
    target === null ? null : `for ${target}`,
  ]
    .filter((part) => part !== null)
    .join(", ")

/** A trip's fish: the figure, and the word that it needs beside it. */
export function fishOf({ status, completeness, landed }: TripListed): {
  readonly figure: string
  readonly word: string | null
} {
  if (status === "planned") return { figure: "planned", word: null }
  if (landed === null)
    return { figure: "not counted", word: completeness === "complete" ? null : completeness }
  if (status === "open") return { figure: String(landed), word: "so far" }
  if (completeness === "complete") return { figure: landed === 0 ? "blank" : String(landed), word: null }
  return { figure: landed === 0 ? "none" : String(landed), word: completeness }
}

export const isBlank = (trip: TripListed): boolean => fishOf(trip).figure === "blank"

/** A trip in one breath, for those who hear the list. */
export function sayTrip(trip: TripListed): string {
  const fish = fishOf(trip)
  const tally = /^\d+$/.test(fish.figure) ? counted(Number(fish.figure), "fish", "fish") : fish.figure
  return [
    dayLong(trip.date),
    tripName(trip),
    tripParty(trip),
    trip.rod_hours === null ? "rod-hours not known" : `${hoursFigure(trip.rod_hours)} rod-hours`,
    fish.word === null ? tally : `${tally}, ${fish.word}`,
  ]
    .filter((part) => part !== "")
    .join(", ")
}

export const rateFigure = (trip: TripListed): string => {
  const rate = tripRate(trip)
  return rate === null ? "-" : figure(rate)
}
