import { setTimeout } from "node:timers/promises"
import { setFlagsFromString } from "node:v8"
import { runInNewContext } from "node:vm"

/** Bytes of typed arrays that an act makes, garbage in, none of it collected at its end. */
export async function arraysMadeBy(act: () => unknown): Promise<number> {
  setFlagsFromString("--expose-gc")
  // what is collected is counted as gone a moment later
  for (let round = 0; round < 3; round++) {
    runInNewContext("gc()")
    await setTimeout(50)
  }
  const before = process.memoryUsage().arrayBuffers
  act()
  return process.memoryUsage().arrayBuffers - before
}
