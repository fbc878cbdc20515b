import fc from "fast-check"
import { expect, test } from "vitest"
import { ProblemError } from "../../../shared/problems.ts"
import type { Envelope } from "../../../shared/rpc.ts"
import { decode, encode, mostFrameBytes } from "../../../shared/wire.ts"
import { pieceBytes } from "../../../shared/desk.ts"

/** Objects as they come over a wire. */
const plain = { noNullPrototype: true } as const

/** Whatever a method may take or give: JSON's own, bytes, unusual numbers, and keys that look like our marks. */
const { value } = fc.letrec((tie) => ({
  value: fc.oneof(
    { maxDepth: 4, withCrossShrink: true },
    fc.double(),
    fc.string({ unit: "grapheme" }),
    fc.boolean(),
    fc.constant(null),
    fc.uint8Array(),
    fc.array(tie("value"), { maxLength: 4 }),
    fc.dictionary(
      fc.oneof(
        fc.string(),
        fc.constantFrom("$bytes", "$number", "$", "$$", "$$bytes", "__proto__", "toString"),
      ),
      tie("value"),
      { maxKeys: 4, ...plain },
    ),
  ),
}))

const id = fc.nat()
const envelope: fc.Arbitrary<Envelope> = fc.oneof(
  fc.record({ t: fc.constant("call" as const), id, method: fc.string(), input: value }, plain),
  fc.record({ t: fc.constant("cancel" as const), id }, plain),
  fc.record({ t: fc.constant("ok" as const), id, output: value }, plain),
  fc.record(
    {
      t: fc.constant("problem" as const),
      id,
      problem: fc.record(
        {
          code: fc.constantFrom("internal" as const, "bad_input" as const),
          message: fc.string(),
          details: fc.dictionary(fc.string(), value, plain),
        },
        plain,
      ),
    },
    plain,
  ),
  fc.record({ t: fc.constant("progress" as const), id, done: fc.nat(), of: fc.nat() }, plain),
  fc.record({ t: fc.constant("changed" as const), version: fc.nat() }, plain),
)

test("every envelope comes out of its frame as it went in", () => {
  fc.assert(
    fc.property(envelope, (sent) => {
      expect(decode(encode(sent))).toStrictEqual(sent)
    }),
    { seed: 1, numRuns: 2000 },
  )
})

test("bytes are base64 as RFC 4648 section 10 has it", () => {
  const examples = ["", "Zg==", "Zm8=", "Zm9v", "Zm9vYg==", "Zm9vYmE=", "Zm9vYmFy"]
  for (const [length, base64] of examples.entries()) {
    const bytes = new TextEncoder().encode("foobar").subarray(0, length)
    expect(encode({ t: "ok", id: 1, output: bytes })).toContain(`{"$bytes":"${base64}"}`)
  }
})

test("the largest piece of an upload fits a frame", () => {
  const bytes = new Uint8Array(pieceBytes).fill(255)
  const frame = encode({ t: "call", id: 1, method: "upload.piece", input: { upload: "u", at: 0, bytes } })
  expect(frame.length).toBeLessThan(mostFrameBytes)
  const back = decode(frame)
  expect(back.t === "call" ? back.input : null).toEqual({ upload: "u", at: 0, bytes })
})

test.each([
  ["no JSON", "{"],
  ["nothing", ""],
  ["a bare value", "null"],
  ["an array", "[]"],
  ["no kind", `{"id":1}`],
  ["a kind of no one's", `{"t":"eval","id":1}`],
  ["a negative id", `{"t":"cancel","id":-1}`],
  ["an id in text", `{"t":"cancel","id":"1"}`],
  ["a key too many", `{"t":"cancel","id":1,"more":1}`],
  ["bytes that are none", `{"t":"call","id":1,"method":"m","input":{"$bytes":"%%"}}`],
  ["bytes that are no text", `{"t":"call","id":1,"method":"m","input":{"$bytes":7}}`],
  ["a number that is none", `{"t":"call","id":1,"method":"m","input":{"$number":"1e3"}}`],
  ["a mark of no one's", `{"t":"call","id":1,"method":"m","input":{"$date":"now"}}`],
  ["marks beside other keys", `{"t":"call","id":1,"method":"m","input":{"$bytes":"","a":1}}`],
  ["a hole of arrays", `{"t":"call","id":1,"method":"m","input":${"[".repeat(1e5)}${"]".repeat(1e5)}}`],
])("a frame with %s is refused by a sentence", (_, frame) => {
  expect(() => decode(frame)).toThrow(ProblemError)
  expect(() => decode(frame)).toThrow(/could not be read/)
})

test("no text at all makes anything but an envelope or a problem", () => {
  fc.assert(
    fc.property(fc.oneof(fc.string(), fc.json()), (text) => {
      expect(() => decode(text)).toThrow(ProblemError)
    }),
    { seed: 2, numRuns: 1000 },
  )
})

test.each([
  ["dates", new Date()],
  ["maps", new Map()],
  ["columns", new Float64Array(1)],
  ["big", 1n],
])("what would come out as something else is not sent: %s", (_, output) => {
  expect(() => encode({ t: "ok", id: 1, output })).toThrow(TypeError)
})

test("data cannot change what objects are", () => {
  const back = decode(`{"t":"ok","id":1,"output":{"__proto__":{"polluted":true}}}`)
  expect(back.t === "ok" && typeof back.output === "object" && back.output !== null).toBe(true)
  expect(Object.getPrototypeOf(back.t === "ok" ? back.output : null)).toBe(Object.prototype)
  expect("polluted" in {}).toBe(false)
})
