// The thread that owns the logbooks: it keeps the desk, and answers every call that comes over any of its ports. Each window
// gets a port of its own, which the host posts as `{ connect: MessagePort }`; what goes into the host's log comes back as
// `{ log: string }`; `{ end: true }` closes the logbook, and `{ ended: true }` says that the thread may be ended. Answers are worked out in
// threads beside it (fit.ts), so that no save waits for them.
import { MessagePort, parentPort, workerData } from "node:worker_threads"
import { z } from "zod"
import { serve, type Envelope, type Port } from "../shared/rpc.ts"
import { answerThreads } from "./answerThreads.ts"
import { openDesk } from "./service/desk.ts"

const Start = z.object({ folder: z.string(), config: z.string(), open: z.string().nullable() })
const End = z.object({ end: z.literal(true) })
const Connect = z.object({ connect: z.instanceof(MessagePort) })

if (parentPort === null) throw new Error("core/worker.ts runs as a worker thread")
const host = parentPort
const desk = openDesk(Start.parse(workerData), answerThreads(), (line) => host.postMessage({ log: line }))

host.on("message", (message: unknown) => {
  if (End.safeParse(message).success) void desk.end().finally(() => host.postMessage({ ended: true }))
  const asked = Connect.safeParse(message)
  if (!asked.success) return
  const { connect } = asked.data
  const port = portOn(connect)
  const endServing = serve(port, desk.handlers)
  const endTelling = desk.listen((version) => port.send({ t: "changed", version }))
  connect.on("close", () => {
    endServing()
    endTelling()
  })
})

function portOn(channel: MessagePort): Port {
  return {
    send: (message) => channel.postMessage(message),
    hear: (listener) => {
      const hear = (message: Envelope) => listener(message)
      channel.on("message", hear)
      return () => channel.off("message", hear)
    },
  }
}
