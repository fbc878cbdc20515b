import type { CallContext } from "../../shared/api.ts"
import { conditionsFrom, conditionsMethod } from "../conditions/compute.ts"
import { staleStints, workedOutWriter, type StaleStint } from "../store/computed.ts"
import type { Logbook } from "../store/logbook.ts"
import type { OpenChange } from "../store/put.ts"
import { oneAtATime, type Queue } from "./queue.ts"
import { stationsOf } from "./stationsOf.ts"

/** Stints worked out between two looks at the world: some 30 ms, so that nobody waits behind them. */
const slice = 500

/** How often what changed meanwhile is looked for: a stint that is stale even then would be so for ever (our bug). */
const mostRounds = 100

/** What of a call matters here: how far the work is, and whether it is still wanted. */
export type Watch = Pick<CallContext, "signal" | "progress">

/**
 * Works out the conditions of every stint that has none yet, or whose place, time or method has changed since: each
 * slice in a transaction of its own on `queue`, so that saves come between. Returns how many stints it touched. Throws
 * the signal's reason when cancelled; what was worked out until then stays.
 */
async function updateConditions(book: Logbook, queue: Queue, watch: Watch): Promise<number> {
  if (book.readOnly) return 0
  let done = 0
  for (let round = 0; round < mostRounds; round++) {
    watch.signal.throwIfAborted()
    const stale = await queue(async () => book.read((db) => staleStints(db, conditionsMethod)))
    if (stale.length === 0) return done
    const conditionsOf = conditionsFrom(stationsOf(book))
    const total = done + stale.length
    for (let i = 0; i < stale.length; i += slice) {
      watch.signal.throwIfAborted()
      await queue(async () =>
        book.change((change) => writeConditions(change, stale.slice(i, i + slice), conditionsOf)),
      )
      done = Math.min(total, done + slice)
      watch.progress(done, total)
      await new Promise<void>((resolve) => setImmediate(resolve))
    }
  }
  throw new Error(`conditions were still behind after ${mostRounds} rounds`)
}

function writeConditions(
  { db }: OpenChange,
  stints: readonly StaleStint[],
  conditionsOf: ReturnType<typeof conditionsFrom>,
): void {
  const write = workedOutWriter(db, conditionsMethod)
  for (const stint of stints) {
    const { start_at, end_at, zone, spot_id } = stint
    write(stint, conditionsOf({ start_at, end_at, zone, spot: spot_id === null ? null : stint }))
  }
}

/** Brings the conditions of a logbook that nothing else uses meanwhile up to date. */
export const bringUpToDate = (book: Logbook, watch: Watch = unwatched): Promise<number> =>
  updateConditions(book, oneAtATime(), watch)

export const unwatched: Watch = { signal: new AbortController().signal, progress: () => undefined }

/** Keeps conditions up to date behind everything else that happens to an open logbook. */
export type ConditionsKeeper = {
  /** To be called whenever the record may have changed. Returns at once. */
  wake(): void
  /** When nothing is under way any more, done or not. */
  idle(): Promise<void>
  /** When nothing is left to be worked out; rejects with a ProblemError where that could not be stored. */
  settled(watch?: Watch): Promise<void>
}

/** A keeper for one logbook, until `ending`; `changed` is called after each run that touched something. */
export function conditionsKeeper(
  book: Logbook,
  queue: Queue,
  changed: () => void,
  ending: AbortSignal = unwatched.signal,
): ConditionsKeeper {
  let running: Promise<void> | null = null
  let again = false
  let upToDateAt: number | null = null
  const watching = new Set<Watch>()
  const shared: Watch = {
    signal: ending,
    progress: (done, of) => {
      for (const watch of watching) watch.progress(done, of)
    },
  }
  const run = async (): Promise<void> => {
    do {
      again = false
      if ((await updateConditions(book, queue, shared)) > 0) changed()
    } while (again)
    upToDateAt = book.version()
  }
  const start = (): Promise<void> => {
    again = true
    running ??= run().finally(() => (running = null))
    return running
  }
  return {
    // A failure in the background comes out at the next `settled`, which tries again.
    wake: () => void start().catch(() => undefined),
    idle: async () => {
      await running?.catch(() => undefined)
    },
    settled: async (watch) => {
      if (running === null && upToDateAt === book.version()) return
      if (watch !== undefined) watching.add(watch)
      try {
        await start()
      } finally {
        if (watch !== undefined) watching.delete(watch)
      }
    },
  }
}
