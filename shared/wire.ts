import { z } from "zod"
import { Problem, ProblemError } from "./problems.ts"
import type { Envelope } from "./rpc.ts"

/** The largest frame a host takes from a page: a piece of an upload in base64 fits three times. */
export const mostFrameBytes = 16 * 1024 * 1024
/** Nothing of ours nests as deep; more would only exhaust the stack. */
const mostNested = 64
const bytesKey = "$bytes"
const numberKey = "$number"

const id = z.int().nonnegative()
const Frame: z.ZodType<Envelope> = z.discriminatedUnion("t", [
  z.strictObject({ t: z.literal("call"), id, method: z.string(), input: z.unknown() }),
  z.strictObject({ t: z.literal("cancel"), id }),
  z.strictObject({ t: z.literal("ok"), id, output: z.unknown() }),
  z.strictObject({ t: z.literal("problem"), id, problem: Problem }),
  z.strictObject({ t: z.literal("progress"), id, done: z.number(), of: z.number() }),
  z.strictObject({ t: z.literal("changed"), version: z.number() }),
])

/**
 * An envelope as the text of one frame: JSON, in which bytes stand as `{"$bytes": base64}` and numbers that JSON has not
 * as `{"$number": "NaN"}`. Keys of data that begin with `$` get one more. What would not come out as it went in (other
 * typed arrays, maps, dates) throws a TypeError: it is a mistake of ours.
 */
export function encode(envelope: Envelope): string {
  return JSON.stringify(packed(envelope))
}

/** The envelope in a frame; a ProblemError `bad_input` where the text is none. */
export function decode(text: string): Envelope {
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch {
    throw malformed("it is not JSON")
  }
  return envelopeIn(unpacked(value, 0))
}

/** The envelope that a stranger's value is; a ProblemError `bad_input` where it is none. */
export function envelopeIn(value: unknown): Envelope {
  const frame = Frame.safeParse(value)
  if (!frame.success) throw malformed("it is not an envelope", { issues: frame.error.issues })
  return frame.data
}

const malformed = (why: string, details: Record<string, unknown> = {}): ProblemError =>
  new ProblemError(
    "bad_input",
    `A message could not be read: ${why}. Reload the window; what was saved is safe.`,
    details,
  )

function packed(value: unknown): unknown {
  if (typeof value === "number")
    return Number.isFinite(value) && !Object.is(value, -0)
      ? value
      : { [numberKey]: Object.is(value, -0) ? "-0" : String(value) }
  if (value === null || typeof value !== "object") {
    if (typeof value === "bigint" || typeof value === "symbol" || typeof value === "function")
      throw new TypeError(`a ${typeof value} cannot be sent`)
    return value
  }
  if (value instanceof Uint8Array) return { [bytesKey]: toBase64(value) }
  if (Array.isArray(value)) return value.map(packed)
  if (!isPlain(value)) throw new TypeError(`${value.constructor.name} cannot be sent`)
  return Object.fromEntries(
    Object.entries(value).map(([key, item]) => [key.startsWith("$") ? `$${key}` : key, packed(item)]),
  )
}

function isPlain(value: object): boolean {
  const prototype: unknown = Object.getPrototypeOf(value)
  return prototype === Object.prototype || prototype === null
}

function unpacked(value: unknown, depth: number): unknown {
  if (depth > mostNested) throw malformed("it nests too deep")
  if (value === null || typeof value !== "object") return value
  if (Array.isArray(value)) return value.map((item) => unpacked(item, depth + 1))
  const entries = Object.entries(value)
  const [first] = entries
  if (entries.length === 1 && first !== undefined) {
    if (first[0] === bytesKey) return fromBase64(first[1])
    if (first[0] === numberKey) return unusualNumber(first[1])
  }
  return Object.fromEntries(entries.map(([key, item]) => [unescaped(key), unpacked(item, depth + 1)]))
}

function unescaped(key: string): string {
  if (!key.startsWith("$")) return key
  if (!key.startsWith("$$")) throw malformed(`"${key.slice(0, 20)}" is no mark of ours`)
  return key.slice(1)
}

const unusualNumbers: ReadonlyMap<unknown, number> = new Map([
  ["NaN", Number.NaN],
  ["Infinity", Number.POSITIVE_INFINITY],
  ["-Infinity", Number.NEGATIVE_INFINITY],
  ["-0", -0],
])

function unusualNumber(name: unknown): number {
  const value = unusualNumbers.get(name)
  if (value === undefined) throw malformed("a number in it is none")
  return value
}

/** Characters made at once: a call takes only so many arguments. */
const chunk = 0x8000

function toBase64(bytes: Uint8Array): string {
  let text = ""
  for (let at = 0; at < bytes.length; at += chunk)
    text += String.fromCharCode(...bytes.subarray(at, at + chunk))
  return btoa(text)
}

function fromBase64(value: unknown): Uint8Array {
  let text: string
  try {
    text = atob(z.string().parse(value))
  } catch {
    throw malformed("bytes in it are not base64")
  }
  return Uint8Array.from(text, (character) => character.charCodeAt(0))
}
