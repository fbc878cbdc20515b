import { expect, test, vi } from "vitest"
import { Uploads } from "../../../core/service/uploads.ts"
import { mostUploadBytes, pieceBytes } from "../../../shared/desk.ts"
import type { Client } from "../../../shared/rpc.ts"
import { startWithBook } from "./startCore.ts"

/** Sends a file as a window does: begin, then pieces of `size` bytes. */
async function send(client: Client, name: string, bytes: Uint8Array, size = pieceBytes): Promise<string> {
  const { upload } = await client.call("upload.begin", { name, bytes: bytes.length })
  for (let at = 0; at < bytes.length; at += size)
    await client.call("upload.piece", { upload, at, bytes: bytes.subarray(at, at + size) })
  return upload
}

const tableOf = (rows: number): Uint8Array =>
  new TextEncoder().encode(
    ["trip,date,hours,lure_class,landed,notes"]
      .concat(
        Array.from({ length: rows }, (_, i) => `T${i},2024-05-11,2,jig,${i % 4},Strömung ${"x".repeat(60)}`),
      )
      .join("\n"),
  )

test("a file in pieces is previewed and imported as if it had come whole, then it is gone", async () => {
  const { client } = await startWithBook()
  const bytes = tableOf(300)
  const upload = await send(client, "a.csv", bytes, 1001)
  const whole = await client.call("import.preview", { files: [{ name: "a.csv", bytes }], settings: {} })
  expect(await client.call("import.preview", { files: [{ upload }], settings: {} })).toEqual(whole)
  expect(whole.creates.trips).toBe(300)
  const done = await client.call("import.commit", { files: [{ upload }], settings: {} })
  expect(done.creates).toEqual(whole.creates)
  await expect(client.call("import.preview", { files: [{ upload }], settings: {} })).rejects.toThrow(
    "That file is no longer kept here. Choose it again.",
  )
})

test("a file whose import was refused is kept for the next try", async () => {
  const { client } = await startWithBook()
  const bytes = new TextEncoder().encode("date,hours,landed\n2024-05-11,2,1\nnever,2,1")
  const upload = await send(client, "a.csv", bytes)
  const files = [{ upload }]
  await expect(client.call("import.commit", { files, settings: { all_or_nothing: true } })).rejects.toThrow(
    /1 of 2 rows cannot be taken/,
  )
  expect((await client.call("import.commit", { files, settings: {} })).creates.trips).toBe(1)
})

test("one file in pieces beside one whole is one import", async () => {
  const { client } = await startWithBook()
  const upload = await send(client, "a.csv", new TextEncoder().encode("date,hours,landed\n2024-05-11,2,1"))
  const files = [
    { upload },
    { name: "b.csv", bytes: new TextEncoder().encode("date,hours,landed\n2024-05-12,2,1") },
  ]
  const done = await client.call("import.commit", { files, settings: {} })
  expect([done.creates.trips, done.files]).toEqual([2, ["a.csv", "b.csv"]])
})

test("pieces out of turn, too large, too many or too few are told", () => {
  const uploads = new Uploads()
  const id = uploads.begin("a.csv", 10)
  uploads.piece(id, 0, new Uint8Array(4))
  expect(() => uploads.piece(id, 0, new Uint8Array(4))).toThrow(/a piece from byte 0 came where 4 was next/)
  expect(() => uploads.piece(id, 8, new Uint8Array(2))).toThrow(/a piece from byte 8 came where 4 was next/)
  expect(() => uploads.piece(id, 4, new Uint8Array(7))).toThrow(/more than its 10 bytes came/)
  expect(() => uploads.source(id)).toThrow("Only 4 of the 10 bytes of a.csv have arrived.")
  const large = uploads.begin("b.csv", 2 * pieceBytes)
  expect(() => uploads.piece(large, 0, new Uint8Array(pieceBytes + 1))).toThrow(/a piece holds at most/)
  uploads.piece(id, 4, new Uint8Array(6))
  expect(uploads.source(id).size).toBe(10)
  uploads.drop(id)
  expect(() => uploads.source(id)).toThrow(/no longer kept/)
})

test("waiting files hold no more than one may, and a dropped one makes room", () => {
  const uploads = new Uploads()
  const first = uploads.begin("a.csv", mostUploadBytes - 10)
  expect(() => uploads.begin("b.csv", 11)).toThrow(/b\.csv is too large: files waiting .* may hold 256 MiB/)
  uploads.drop(first)
  uploads.drop(uploads.begin("b.csv", mostUploadBytes))
})

test("a file that nobody uses for ten minutes is dropped, one in use is kept", () => {
  vi.useFakeTimers()
  try {
    const uploads = new Uploads()
    const [used, left] = [uploads.begin("a.csv", 0), uploads.begin("b.csv", 0)]
    vi.advanceTimersByTime(9 * 60_000)
    uploads.source(used)
    vi.advanceTimersByTime(2 * 60_000)
    expect(uploads.source(used).name).toBe("a.csv")
    expect(() => uploads.source(left)).toThrow(/no longer kept/)
  } finally {
    vi.useRealTimers()
  }
})

test("a file is refused before it is sent where it is larger than any may be", async () => {
  const { client } = await startWithBook()
  await expect(
    client.call("upload.begin", { name: "a.csv", bytes: mostUploadBytes + 1 }),
  ).rejects.toMatchObject({
    problem: { code: "bad_input" },
  })
})
