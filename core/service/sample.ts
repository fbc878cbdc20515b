import { skyFrom } from "../demo/sky.ts"
import { makeSample } from "../demo/sample.ts"
import { storeSample } from "../demo/store.ts"
import type { Truth } from "../demo/truth.ts"
import { stationsWith } from "../conditions/stations/stations.ts"
import type { Logbook } from "../store/logbook.ts"
import { add } from "../store/put.ts"
import { bringUpToDate } from "./conditions.ts"
import { newBook } from "./open.ts"

/** The setting that marks a logbook as the made-up sample; its value is the seed. */
export const sampleKey = "sample_seed"

/** Which sample: the same seed and seasons give the same days to the last fish. */
export type SampleWish = { readonly seed: number; readonly seasons: number }

/**
 * Makes the sample logbook in a file of its own, its conditions worked out, and tells the truth behind it; stints go by their
 * ids. Throws a ProblemError where the file exists, so that a sample never takes a logbook's place.
 */
export async function newSampleBook(
  file: string,
  wish: SampleWish,
): Promise<{ book: Logbook; truth: Truth }> {
  const sample = makeSample(wish, skyFrom(stationsWith([])))
  const book = newBook(file)
  try {
    const ids = book.change((change) => {
      add(change, "setting", { key: sampleKey, value: String(wish.seed) })
      return storeSample(change, sample)
    })
    await bringUpToDate(book)
    const stints = sample.truth.stints.map((truth) => ({
      ...truth,
      stint: ids.get(truth.stint) ?? truth.stint,
    }))
    return { book, truth: { ...sample.truth, stints } }
  } catch (error) {
    book.close()
    throw error
  }
}
