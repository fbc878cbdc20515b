import { createHash } from "node:crypto"
import { stream } from "../../../core/stats/random.ts"
import { type Drawn, type Season, drawSeason } from "../seasons/season.ts"

/** The season whose logbooks R and the product both read: the first level gives 1.6 times as much as the others. */
const SEASON: Season = {
  trips: 60,
  spread: 0.6,
  theta: 2,
  rate: 0.8,
  ratios: [1.6, 1],
  levelByTrip: 0,
  levels: "mixed",
}
const LOGBOOKS = 200
const SEED = 20_261_128

export function powerLogbooks(): Drawn[] {
  const random = stream(SEED, "power")
  return Array.from({ length: LOGBOOKS }, () => drawSeason(random, SEASON))
}

/** The logbooks as the table that power.R reads. */
export function powerTable(logbooks: readonly Drawn[]): string {
  const lines = logbooks.flatMap(({ level, trip, hours, events }, logbook) =>
    Array.from(level, (at, i) => [logbook, trip[i], "abc"[at], hours[i], events[i]].join(",")),
  )
  return `${["logbook,trip,level,hours,events", ...lines].join("\n")}\n`
}

export function fingerprint(table: string): string {
  return createHash("sha256").update(table).digest("hex")
}
