import { rmSync } from "node:fs"
import { skyFrom } from "../demo/sky.ts"
import { makingSample, type SampleWish } from "../demo/sample.ts"
import { givingWay } from "../demo/steps.ts"
import { storingSample } from "../demo/store.ts"
import type { Truth } from "../demo/truth.ts"
import { stationsWith } from "../conditions/stations/stations.ts"
import type { Logbook } from "../store/logbook.ts"
import { add } from "../store/put.ts"
import { bringUpToDate, unwatched, type Watch } from "./conditions.ts"
import { newBook } from "./open.ts"

/** The setting that marks a logbook as the made-up sample; its value is the seed. */
export const sampleKey = "sample_seed"

/** The sample that everybody sees first. */
export const usualSample: SampleWish = { seed: 7, seasons: 3 }

/** How far the making of a sample is, in hundredths: when its days are made up, and when they are stored. */
const madeUp = 20
const stored = 60

/**
 * Makes the sample logbook in a file of its own, its conditions worked out, and tells the truth behind it; stints go by their
 * ids. It gives way every few milliseconds, so that whoever makes it can answer meanwhile. Throws a ProblemError where the file exists, so that a sample never takes a logbook's place, and the signal's reason
 * when cancelled; nothing is left of it then.
 */
export async function newSampleBook(
  file: string,
  wish: SampleWish,
  watch: Watch = unwatched,
): Promise<{ book: Logbook; truth: Truth }> {
  const pause = async (): Promise<void> => {
    await new Promise<void>((resolve) => setImmediate(resolve))
    watch.signal.throwIfAborted()
  }
  const step = (done: number): Promise<void> => {
    watch.progress(done, 100)
    return pause()
  }
  await step(0)
  const sample = await givingWay(makingSample(wish, skyFrom(stationsWith([]))), pause)
  const book = newBook(file)
  try {
    await step(madeUp)
    const ids = await book.longChange((change) => {
      add(change, "setting", { key: sampleKey, value: String(wish.seed) })
      return givingWay(storingSample(change, sample), pause)
    })
    await step(stored)
    await bringUpToDate(book, {
      signal: watch.signal,
      progress: (done, of) => watch.progress(stored + Math.floor(((100 - stored) * done) / of), 100),
    })
    const stints = sample.truth.stints.map((truth) => ({
      ...truth,
      stint: ids.get(truth.stint) ?? truth.stint,
    }))
    return { book, truth: { ...sample.truth, stints } }
  } catch (error) {
    book.close()
    rmSync(file, { force: true })
    throw error
  }
}
