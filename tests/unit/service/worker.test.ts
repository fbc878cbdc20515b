import { join } from "node:path"
import { Worker } from "node:worker_threads"
import { expect, onTestFinished, test } from "vitest"
import { ProblemError } from "../../../shared/problems.ts"
import { connect, type Client, type Envelope } from "../../../shared/rpc.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"

/** Starts the real core on a logbook file and connects to it. */
function startCore(file: string): { client: Client; heard: Envelope[] } {
  const worker = new Worker(new URL("../../../core/worker.ts", import.meta.url), {
    workerData: { file, create: true },
  })
  const heard: Envelope[] = []
  worker.on("message", (message: Envelope) => heard.push(message))
  const client = connect({
    send: (message) => worker.postMessage(message),
    hear: (listener) => {
      worker.on("message", listener)
      return () => worker.off("message", listener)
    },
  })
  onTestFinished(async () => {
    client.close()
    await worker.terminate()
  })
  return { client, heard }
}

const table = (rows: number): { name: string; bytes: Uint8Array } => ({
  name: "stints.csv",
  bytes: new TextEncoder().encode(
    ["trip,date,start,end,lure class,landed"]
      .concat(
        Array.from({ length: rows }, (_, i) => {
          const day = `2024-${String(1 + (i % 12)).padStart(2, "0")}-${String(1 + (i % 28)).padStart(2, "0")}`
          return `T${i % 97} ${day},${day},06:${String(i % 60).padStart(2, "0")},08:00,${i % 2 ? "spoon" : "jig"},${i % 3}`
        }),
      )
      .join("\n"),
  ),
})

test("a table goes in and an answer comes out over the wire, and every change is told", async () => {
  const { client, heard } = startCore(join(temporaryFolder(), "a.stintbook"))
  const versions: number[] = []
  client.onChanged((version) => versions.push(version))
  const progress: number[] = []
  const done = await client.call(
    "import.commit",
    { files: [table(600)], settings: { repeats: "separate" } },
    { progress: (at) => progress.push(at) },
  )
  expect(done.creates.stints).toBe(600)
  expect(progress.at(-1)).toBe(600)
  expect(versions.length).toBeGreaterThan(0)
  const answer = await client.call("questions.ask", { outcome: "landed_rate", by: "lure_class" })
  if ("factors" in answer) throw new Error("one factor was asked about")
  expect(answer.levels.map(({ level, stints }) => [level, stints])).toEqual([
    ["jig", 300],
    ["spoon", 300],
  ])
  expect(heard.every((message) => message.t !== "problem")).toBe(true)
})

test("a stranger's call is refused by a sentence, whatever it sends", async () => {
  const { client } = startCore(join(temporaryFolder(), "a.stintbook"))
  await expect(client.call("questions.ask", { outcome: "landed_rate", by: "moonbeams" })).rejects.toThrow(
    /"moonbeams" is not a factor/,
  )
})

test("a cancelled import leaves nothing behind", async () => {
  const { client } = startCore(join(temporaryFolder(), "a.stintbook"))
  const controller = new AbortController()
  const call = client.call(
    "import.commit",
    { files: [table(20_000)], settings: { repeats: "separate" } },
    { signal: controller.signal, progress: () => controller.abort() },
  )
  const reason: unknown = await call.catch((error: unknown) => error)
  expect(reason).toBeInstanceOf(ProblemError)
  expect(reason).toMatchObject({ problem: { code: "cancelled" } })
  const info = await client.call("logbook.info", {})
  expect([info.trips, info.stints, info.batches.length]).toEqual([0, 0, 0])
})

test("cancelling one answer does not harm another", async () => {
  const { client } = startCore(join(temporaryFolder(), "a.stintbook"))
  await client.call("import.commit", { files: [table(2000)], settings: { repeats: "separate" } })
  const controller = new AbortController()
  const given = client.call(
    "questions.ask",
    { outcome: "landed_rate", by: "all" },
    { signal: controller.signal },
  )
  const kept = client.call("questions.ask", { outcome: "landed_rate", by: "lure_class" })
  controller.abort()
  await expect(given).rejects.toThrow(/Cancelled/)
  const answer = await kept
  expect("levels" in answer && answer.levels.length).toBe(2)
})
