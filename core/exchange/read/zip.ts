import { inflateRawSync } from "node:zlib"

/** A workbook that is broken, or larger or odder than any real one. */
export class ZipProblem extends Error {}

const endMark = 0x06054b50
const entryMark = 0x02014b50
const localMark = 0x04034b50
const mostEntries = 10_000
/** What the entries may unpack to, together. */
const mostUnpacked = 256 * 1024 * 1024
/** After an entry's bytes its sizes may be told again; nothing else may lie between two entries. */
const mostBetween = 24

/**
 * Unpacks the entries of a ZIP file whose names pass `wanted`, and makes sure that nothing else in the file could unpack
 * to more than the limit: the entries of the directory must lie end to end from the first byte. Throws ZipProblem.
 * Layout: APPNOTE.TXT 6.3.x, sections 4.3.7, 4.3.12 and 4.3.16 (from memory); no ZIP64, no encryption.
 */
export function unpack(file: Buffer, wanted: (name: string) => boolean): Map<string, Buffer> {
  const unpacked = new Map<string, Buffer>()
  let left = mostUnpacked
  let expected = 0
  for (const entry of directory(file)) {
    if (file.length < entry.offset + 30 || file.readUInt32LE(entry.offset) !== localMark)
      throw new ZipProblem("broken")
    if (entry.offset < expected || entry.offset > expected + mostBetween)
      throw new ZipProblem("has bytes outside its entries")
    checkLocalHeader(file, entry)
    const start =
      entry.offset + 30 + file.readUInt16LE(entry.offset + 26) + file.readUInt16LE(entry.offset + 28)
    expected = start + entry.packed
    if (expected > file.length) throw new ZipProblem("cut off")
    const bytes = inflate(file.subarray(start, expected), entry.method, left)
    left -= bytes.length
    if (wanted(entry.name)) unpacked.set(entry.name, bytes)
  }
  return unpacked
}

/** A reader that goes by the headers before the entries must find there what the directory says. */
function checkLocalHeader(file: Buffer, entry: Entry): void {
  const sizesFollow = (file.readUInt16LE(entry.offset + 6) & 8) !== 0
  const method = file.readUInt16LE(entry.offset + 8)
  const packed = file.readUInt32LE(entry.offset + 18)
  const agrees = sizesFollow ? method === 8 : packed === entry.packed
  if (method !== entry.method || !agrees) throw new ZipProblem("tells two stories about one part")
}

type Entry = {
  readonly name: string
  readonly method: number
  readonly packed: number
  readonly offset: number
}

/** The entries of the directory at the file's end, in the order in which they lie in the file. */
function directory(file: Buffer): Entry[] {
  const end = file.lastIndexOf(Buffer.from([0x50, 0x4b, 0x05, 0x06]))
  if (end < 0 || end + 22 > file.length || file.readUInt32LE(end) !== endMark) throw new ZipProblem("cut off")
  const count = file.readUInt16LE(end + 10)
  if (count > mostEntries) throw new ZipProblem("has too many parts")
  const entries: Entry[] = []
  let at = file.readUInt32LE(end + 16)
  for (let n = 0; n < count; n++) {
    if (at + 46 > end || file.readUInt32LE(at) !== entryMark) throw new ZipProblem("broken")
    if ((file.readUInt16LE(at + 8) & 1) === 1) throw new ZipProblem("locked with a password")
    const nameLength = file.readUInt16LE(at + 28)
    entries.push({
      name: file.toString("utf8", at + 46, at + 46 + nameLength),
      method: file.readUInt16LE(at + 10),
      packed: file.readUInt32LE(at + 20),
      offset: file.readUInt32LE(at + 42),
    })
    at += 46 + nameLength + file.readUInt16LE(at + 30) + file.readUInt16LE(at + 32)
  }
  return entries.toSorted((a, b) => a.offset - b.offset)
}

function inflate(packed: Buffer, method: number, most: number): Buffer {
  if (method === 0) {
    if (packed.length > most) throw new ZipProblem("too large")
    return packed
  }
  if (method !== 8) throw new ZipProblem("packed in a way that workbooks do not use")
  try {
    return inflateRawSync(packed, { maxOutputLength: Math.max(1, most) })
  } catch (error) {
    const tooLarge = error instanceof RangeError
    throw new ZipProblem(tooLarge ? "unpacks to more than 256 MiB" : "broken", { cause: error })
  }
}
