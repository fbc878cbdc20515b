import { isComparison } from "../../../shared/answer.ts"
import { expect, test } from "vitest"
import { ProblemError } from "../../../shared/problems.ts"
import { startWithBook } from "./startCore.ts"

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
  const { client, heard } = await startWithBook()
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
  if (!isComparison(answer)) throw new Error("one factor was asked about")
  expect(answer.levels.map(({ level, stints }) => [level, stints])).toEqual([
    ["jig", 300],
    ["spoon", 300],
  ])
  expect(heard.every((message) => message.t !== "problem")).toBe(true)
})

test("a stranger's call is refused by a sentence, whatever it sends", async () => {
  const { client } = await startWithBook()
  await expect(client.call("questions.ask", { outcome: "landed_rate", by: "moonbeams" })).rejects.toThrow(
    /"moonbeams" is not a factor/,
  )
})

test("a cancelled import leaves nothing behind", async () => {
  const { client } = await startWithBook()
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
  const { client } = await startWithBook()
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

test("a moved spot's conditions are worked out behind the answer, and the window is told when they are", async () => {
  const { client } = await startWithBook()
  let changes = 0
  let heardChange = (): void => undefined
  client.onChanged(() => {
    changes++
    heardChange()
  })
  /** Nothing is asked that would wait for the work: each change heard of is a reason to look again. */
  const caughtUp = async () => {
    for (;;) {
      const next = new Promise<void>((resolve) => (heardChange = resolve))
      if ((await client.call("logbook.info", {})).conditions_behind === 0) return
      await next
    }
  }
  const rows = new TextDecoder().decode(table(1500).bytes).split("\n")
  const [head = "", ...stints] = rows
  const placed = [`${head},spot,lat,lon`, ...stints.map((row) => `${row},North bar,31.39,-81.288`)].join("\n")
  const files = [{ name: "stints.csv", bytes: new TextEncoder().encode(placed) }]
  await client.call("import.commit", { files, settings: { repeats: "separate" } })
  await caughtUp()
  const tideOf = async () => {
    const answer = await client.call("questions.ask", { outcome: "landed_rate", by: "tide_stage" })
    if (!isComparison(answer)) throw new Error("one factor was asked about")
    return answer.levels.map(({ level, stints: count }) => [level, count])
  }
  const before = await tideOf()
  expect(before.reduce((sum, [, count]) => sum + Number(count), 0)).toBe(1500)
  const [spot] = await client.call("spots.list", {})
  const told = changes
  await client.call("spots.save", { id: spot?.id ?? "", coordinates: "47.6, -122.4" })
  await caughtUp()
  expect(await tideOf()).not.toEqual(before)
  expect(changes - told).toBeGreaterThanOrEqual(2) // of the spot, and of what followed from it
})
