import { createReadStream, statSync } from "node:fs"
import { basename } from "node:path"
import { ProblemError } from "../../shared/problems.ts"
import type { TableSource } from "../exchange/draft.ts"

/** A table on disk, read as a stream. Throws a ProblemError for a missing file or a folder. */
export function tableFile(path: string): TableSource {
  const found = statSync(path, { throwIfNoEntry: false })
  if (found === undefined) throw new ProblemError("file_missing", `There is no file ${path}.`, { file: path })
  if (!found.isFile())
    throw new ProblemError("not_a_file", `${path} is a folder. Name the table file in it.`, { file: path })
  return {
    name: basename(path),
    size: found.size,
    bytes: async function* () {
      for await (const chunk of createReadStream(path)) if (chunk instanceof Uint8Array) yield chunk
    },
  }
}
