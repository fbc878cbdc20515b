import { createReadStream, readFileSync, statSync } from "node:fs"
import { basename } from "node:path"
import { ProblemError } from "../../shared/problems.ts"
import type { TableSource } from "../exchange/draft.ts"

/** A table on disk, read as a stream. Throws a ProblemError for a missing file or a folder. */
export function tableFile(path: string): TableSource {
  return {
    name: basename(path),
    size: sizeOf(path),
    bytes: async function* () {
      for await (const chunk of createReadStream(path)) if (chunk instanceof Uint8Array) yield chunk
    },
  }
}

/** A small file on disk as its name and bytes. Throws a ProblemError for a missing file, a folder or one over 1 MB. */
export function namedBytes(path: string): { name: string; bytes: Uint8Array } {
  if (sizeOf(path) > 1_000_000)
    throw new ProblemError("bad_input", `${path} is over 1 MB: that is no list of harmonic constants.`, {
      file: path,
    })
  return { name: basename(path), bytes: readFileSync(path) }
}

function sizeOf(path: string): number {
  const found = statSync(path, { throwIfNoEntry: false })
  if (found === undefined) throw new ProblemError("file_missing", `There is no file ${path}.`, { file: path })
  if (!found.isFile())
    throw new ProblemError("not_a_file", `${path} is a folder. Name the file in it.`, { file: path })
  return found.size
}
