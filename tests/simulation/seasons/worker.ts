import { parentPort, workerData } from "node:worker_threads"
import { z } from "zod"
import { stream } from "../../../core/stats/random.ts"
import { SEASONS } from "./cells.ts"
import { countSeason } from "./tally.ts"

/** Counts the kinds of season asked for, one a message by its place in the list. */
const { seed, logbooks } = z.object({ seed: z.number(), logbooks: z.number() }).parse(workerData)

parentPort?.on("message", (message: unknown) => {
  const at = z.number().parse(message)
  const cell = SEASONS[at]
  if (cell === undefined) throw new RangeError(`There is no kind of season ${at}.`)
  const random = stream(seed, `${cell.season.trips} trips, ${cell.name}`)
  parentPort?.postMessage({ at, counted: countSeason(cell.season, logbooks, random) })
})
