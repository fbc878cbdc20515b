import type { Random } from "../../../core/stats/random.ts"
import { judge, VIEWS, type Judged, type View } from "./judge.ts"
import { drawWorld, type World } from "./world.ts"

/** What a view's contrasts came to over many logbooks, three a logbook at most. */
export type Tally = Judged & {
  /** Logbooks with at least one contrast that leaves the truth out. */
  readonly misled: number
}
export type Tallies = Record<View, Tally>

const nothing: Tally = { answered: 0, covered: 0, found: 0, misled: 0 }
const empty = (): Tallies => ({
  "pivot table": nothing,
  raw: nothing,
  adjusted: nothing,
  same_trip: nothing,
  same_stop: nothing,
  headline: nothing,
})

/** Draws `logbooks` logbooks and asks each which lure class lands more. */
export function tallyWorld(random: Random, world: World, logbooks: number): Tallies {
  let tallies = empty()
  for (let logbook = 0; logbook < logbooks; logbook++) {
    const judged = judge(drawWorld(random, world), world.lures)
    tallies = { ...tallies }
    for (const view of VIEWS) tallies[view] = plus(tallies[view], judged[view])
  }
  return tallies
}

const plus = (sum: Tally, { answered, covered, found }: Judged): Tally => ({
  answered: sum.answered + answered,
  covered: sum.covered + covered,
  found: sum.found + found,
  misled: sum.misled + (covered < answered ? 1 : 0),
})
