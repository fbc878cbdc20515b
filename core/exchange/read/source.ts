import { setImmediate } from "node:timers/promises"
import { ProblemError } from "../../../shared/problems.ts"
import type { TableSource } from "../draft.ts"

const mebibyte = 1024 * 1024
/** No table is read beyond this many bytes. */
const mostBytes = 512 * mebibyte
const pieceBytes = 16 * 1024

/** A table that cannot be read at all. The sentence names the file. */
export const unreadable = (
  file: string,
  sentence: string,
  details: Record<string, unknown> = {},
): ProblemError => new ProblemError("table_unreadable", `${file}: ${sentence}`, { file, ...details })

/** Throws ProblemError "cancelled" once the signal is given. */
export function refuseIfCancelled(signal: AbortSignal | undefined): void {
  if (signal?.aborted === true) {
    throw new ProblemError("cancelled", "Reading the tables was cancelled; nothing was stored.")
  }
}

/**
 * The source's bytes in pieces of at most 16 KiB, with a breath for other work after each. Throws ProblemError
 * "table_unreadable" beyond 512 MiB and "cancelled" when the signal is given.
 */
export async function* piecesOf(
  source: TableSource,
  signal: AbortSignal | undefined,
): AsyncGenerator<Uint8Array> {
  if (source.size > mostBytes) throw tooLarge(source.name)
  let read = 0
  for await (const chunk of source.bytes()) {
    for (let at = 0; at < chunk.length; at += pieceBytes) {
      refuseIfCancelled(signal)
      const piece = chunk.subarray(at, at + pieceBytes)
      read += piece.length
      if (read > mostBytes) throw tooLarge(source.name)
      yield piece
      await setImmediate()
    }
  }
}

const tooLarge = (file: string): ProblemError =>
  unreadable(file, "the file is larger than 512 MiB, which no logbook fills; split it.")

/** The first bytes of the source, at most `length` of them. */
export async function headOf(source: TableSource, length: number): Promise<Uint8Array> {
  const pieces: Uint8Array[] = []
  let have = 0
  for await (const piece of piecesOf(source, undefined)) {
    pieces.push(piece)
    have += piece.length
    if (have >= length) break
  }
  return Buffer.concat(pieces).subarray(0, length)
}
