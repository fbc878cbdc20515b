import { parentPort, workerData } from "node:worker_threads"
import { z } from "zod"
import { stream } from "../../../core/stats/random.ts"
import { KINDS } from "./kinds.ts"
import { tallyWorld } from "./tally.ts"

/** Tallies the kinds of logbook asked for, one a message by its place in the list. */
const { seed, logbooks } = z.object({ seed: z.number(), logbooks: z.number() }).parse(workerData)

parentPort?.on("message", (message: unknown) => {
  const at = z.number().parse(message)
  const kind = KINDS[at]
  if (kind === undefined) throw new RangeError(`There is no kind of logbook ${at}.`)
  parentPort?.postMessage({ at, tallies: tallyWorld(stream(seed, kind.name), kind.world, logbooks) })
})
