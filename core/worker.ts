// The thread that owns the logbook: opens the file it is told of, and answers every call that comes over its port.
// Fits run in a second thread (fit.ts), so that no save waits for an answer.
import { parentPort, workerData } from "node:worker_threads"
import { z } from "zod"
import { problemOf, serve, type Envelope, type Port } from "../shared/rpc.ts"
import { fitThread } from "./fitThread.ts"
import { newBook, openBook } from "./service/open.ts"
import { makeService } from "./service/service.ts"

const Start = z.object({ file: z.string(), create: z.boolean().default(false) })

if (parentPort === null) throw new Error("core/worker.ts runs as a worker thread")
const host = parentPort

const port: Port = {
  send: (message) => host.postMessage(message),
  hear: (listener) => {
    const hear = (message: Envelope) => listener(message)
    host.on("message", hear)
    return () => host.off("message", hear)
  },
}

try {
  const { file, create } = Start.parse(workerData)
  const book = create ? newBook(file) : await openBook(file)
  const fits = fitThread()
  serve(
    port,
    makeService(book, fits.answer, (version) => port.send({ t: "changed", version })),
  )
  port.send({ t: "changed", version: book.version() })
} catch (error) {
  port.send({ t: "problem", id: 0, problem: problemOf(error) })
  process.exitCode = 1
}
