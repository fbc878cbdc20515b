import type { TableSource } from "../draft.ts"
import { headOf, piecesOf, unreadable } from "./source.ts"

export type Encoding = "utf-8" | "utf-16le" | "utf-16be" | "windows-1252"

/** A line longer than this is not a line of a table; it is refused without reading on. */
export const longestLine = 1024 * 1024

class NotInThisEncoding extends Error {}

/**
 * Which encoding the source's text is in: by its byte order mark, else UTF-16 by where its zero bytes lie, else UTF-8 if
 * every byte fits, else Windows-1252. `marked` tells of a byte order mark, `sample` holds the first text. Throws
 * ProblemError "table_unreadable" for an empty file, zero bytes, and lines over 1 MiB.
 */
export async function chooseEncoding(
  source: TableSource,
  signal: AbortSignal | undefined,
): Promise<{ encoding: Encoding; marked: boolean; sample: string }> {
  const head = await headOf(source, 4096)
  if (head.length === 0) throw unreadable(source.name, "the file is empty.")
  const mark = markOf(head)
  const wide = mark ?? wideWithoutMark(head)
  const candidates: readonly Encoding[] = wide === null ? ["utf-8", "windows-1252"] : [wide]
  for (const encoding of candidates) {
    try {
      const sample = await wholeText(source, encoding, signal)
      if (sample.trim() === "") throw unreadable(source.name, "the file is empty.")
      return { encoding, marked: mark !== null, sample }
    } catch (error) {
      if (!(error instanceof NotInThisEncoding)) throw error
    }
  }
  throw unreadable(
    source.name,
    `the file begins like ${wide ?? "text"} but is not; save it as UTF-8 and try again.`,
  )
}

/** Reads to the end, which proves the encoding, and keeps only the beginning. */
async function wholeText(
  source: TableSource,
  encoding: Encoding,
  signal: AbortSignal | undefined,
): Promise<string> {
  let sample = ""
  for await (const text of textOf(source, encoding, signal)) {
    if (sample.length < 65_536) sample += text
  }
  return sample
}

/**
 * The source's text in pieces, without its byte order mark and with every line break made a line feed. Throws
 * ProblemError "table_unreadable" with line and byte for a zero byte, and with the line for one over 1 MiB.
 */
export async function* textOf(
  source: TableSource,
  encoding: Encoding,
  signal: AbortSignal | undefined,
): AsyncGenerator<string> {
  const decoder = new TextDecoder(encoding, { fatal: true })
  const place = { line: 1, inLine: 0, bytes: 0 }
  let heldBack = ""
  for await (const piece of piecesOf(source, signal)) {
    const raw = heldBack + decoded(() => decoder.decode(piece, { stream: true }))
    heldBack = raw.endsWith("\r") ? "\r" : ""
    const text = lineFeeds(heldBack === "" ? raw : raw.slice(0, -1))
    advance(source.name, place, text, encoding, piece)
    yield text
  }
  const rest = lineFeeds(heldBack + decoded(() => decoder.decode()))
  if (rest !== "") yield rest
}

const lineFeeds = (text: string): string => (text.includes("\r") ? text.replaceAll(/\r\n?/g, "\n") : text)

function decoded(decode: () => string): string {
  try {
    return decode()
  } catch (error) {
    if (error instanceof TypeError) throw new NotInThisEncoding()
    throw error
  }
}

/** Keeps count of lines and bytes, and refuses what no text table holds. */
function advance(
  file: string,
  place: { line: number; inLine: number; bytes: number },
  text: string,
  encoding: Encoding,
  piece: Uint8Array,
): void {
  const zero = text.indexOf("\0")
  if (zero >= 0) {
    const line = place.line + lineBreaks(text.slice(0, zero))
    const byte = encoding.startsWith("utf-16") ? null : place.bytes + piece.indexOf(0) + 1
    const where = byte === null ? `line ${line}` : `line ${line} (byte ${byte})`
    throw unreadable(file, `${where} holds a zero byte, so this is not a text table.`, { line, byte })
  }
  const last = text.lastIndexOf("\n")
  place.inLine = last < 0 ? place.inLine + text.length : text.length - last - 1
  place.line += lineBreaks(text)
  place.bytes += piece.length
  if (place.inLine > longestLine) {
    throw unreadable(file, `line ${place.line} is longer than 1 MiB, so this is not a table of rows.`, {
      line: place.line,
    })
  }
}

/** How many line feeds a text holds. */
export function lineBreaks(text: string): number {
  let found = 0
  for (let at = text.indexOf("\n"); at >= 0; at = text.indexOf("\n", at + 1)) found++
  return found
}

function markOf(head: Uint8Array): Encoding | null {
  if (head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf) return "utf-8"
  if (head[0] === 0xff && head[1] === 0xfe) return "utf-16le"
  if (head[0] === 0xfe && head[1] === 0xff) return "utf-16be"
  return null
}

/** Latin text in UTF-16 has a zero in nearly every second byte, and in no other. */
function wideWithoutMark(head: Uint8Array): Encoding | null {
  const zeros = [0, 0]
  for (const [at, byte] of head.entries()) if (byte === 0) zeros[at % 2] = (zeros[at % 2] ?? 0) + 1
  const [even = 0, odd = 0] = zeros
  const pairs = Math.floor(head.length / 2)
  if (pairs < 4) return null
  if (odd > 0.6 * pairs && even < 0.05 * pairs) return "utf-16le"
  if (even > 0.6 * pairs && odd < 0.05 * pairs) return "utf-16be"
  return null
}
