import { availableParallelism } from "node:os"
import { Worker } from "node:worker_threads"
import type { Run } from "./run.ts"

/**
 * Gives the numbers 0 to `count` - 1 to threads that run `program`, one at a time to each, and hears what each posts back for a
 * number. Settles when all have answered; a thread that fails makes it fail. The program gets `run` as its workerData.
 */
export function onAllCores<Message>(
  program: URL,
  run: Run,
  count: number,
  hear: (message: Message) => void,
): Promise<void> {
  return new Promise((resolve, reject) => {
    let [next, left] = [0, count]
    for (let core = 0; core < Math.min(availableParallelism(), count); core++) {
      const worker = new Worker(program, { workerData: run })
      const give = (): void => {
        if (next < count) worker.postMessage(next++)
        else void worker.terminate()
      }
      worker.on("error", reject)
      worker.on("message", (message: Message) => {
        hear(message)
        left--
        if (left === 0) resolve()
        give()
      })
      give()
    }
  })
}
