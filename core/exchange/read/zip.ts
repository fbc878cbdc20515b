import { crc32, inflateRawSync } from "node:zlib"

/** A ZIP file that is broken, or larger or odder than that of any real workbook. */
export class ZipProblem extends Error {}

const endMark = 0x06054b50
const entryMark = 0x02014b50
const localMark = 0x04034b50
const mostEntries = 10_000
/** What the wanted entries may unpack to, together. */
const mostUnpacked = 256 * 1024 * 1024

/**
 * Unpacks the entries of a ZIP file whose names pass `wanted`, to no more than 256 MiB together. Throws ZipProblem.
 * Layout: APPNOTE.TXT 6.3.x, sections 4.3.7, 4.3.12 and 4.3.16 (from memory); no ZIP64, no encryption.
 */
export function unpack(file: Buffer, wanted: (name: string) => boolean): Map<string, Buffer> {
  const unpacked = new Map<string, Buffer>()
  let left = mostUnpacked
  for (const { name, method, packed, offset } of directory(file)) {
    if (!wanted(name)) continue
    if (file.length < offset + 30 || file.readUInt32LE(offset) !== localMark) throw new ZipProblem("broken")
    const start = offset + 30 + file.readUInt16LE(offset + 26) + file.readUInt16LE(offset + 28)
    if (start + packed > file.length) throw new ZipProblem("cut off")
    const bytes = inflate(file.subarray(start, start + packed), method, left)
    left -= bytes.length
    unpacked.set(name, bytes)
  }
  return unpacked
}

type Entry = {
  readonly name: string
  readonly method: number
  readonly packed: number
  readonly offset: number
}

function directory(file: Buffer): Entry[] {
  const end = file.lastIndexOf(Buffer.from([0x50, 0x4b, 0x05, 0x06]))
  if (end < 0 || end + 22 > file.length) throw new ZipProblem("cut off")
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
  return entries
}

function inflate(packed: Buffer, method: number, most: number): Buffer {
  if (method === 0 && packed.length <= most) return packed
  if (method !== 8)
    throw new ZipProblem(method === 0 ? "too large" : "packed in a way that workbooks do not use")
  try {
    return inflateRawSync(packed, { maxOutputLength: Math.max(1, most) })
  } catch (error) {
    throw new ZipProblem(error instanceof RangeError ? "unpacks to more than 256 MiB" : "broken", {
      cause: error,
    })
  }
}

/**
 * A ZIP file of the given entries, not packed: what a reader that trusts its input may be handed, with nothing in it but
 * what `unpack` has measured.
 */
export function pack(entries: ReadonlyMap<string, Buffer>): Buffer {
  const parts: Buffer[] = []
  const listed: Buffer[] = []
  let offset = 0
  for (const [name, bytes] of entries) {
    const nameBytes = Buffer.from(name)
    const facts = Buffer.alloc(26)
    facts.writeUInt16LE(20, 0)
    facts.writeUInt32LE(crc32(bytes), 10)
    facts.writeUInt32LE(bytes.length, 14)
    facts.writeUInt32LE(bytes.length, 18)
    facts.writeUInt16LE(nameBytes.length, 22)
    const where = Buffer.alloc(14)
    where.writeUInt32LE(offset, 10)
    parts.push(mark(localMark), facts, nameBytes, bytes)
    listed.push(mark(entryMark), Buffer.from([20, 0]), facts, where, nameBytes)
    offset += 30 + nameBytes.length + bytes.length
  }
  const directoryBytes = Buffer.concat(listed)
  const end = Buffer.alloc(22)
  end.writeUInt32LE(endMark, 0)
  end.writeUInt16LE(entries.size, 8)
  end.writeUInt16LE(entries.size, 10)
  end.writeUInt32LE(directoryBytes.length, 12)
  end.writeUInt32LE(offset, 16)
  return Buffer.concat([...parts, directoryBytes, end])
}

function mark(value: number): Buffer {
  const bytes = Buffer.alloc(4)
  bytes.writeUInt32LE(value, 0)
  return bytes
}
