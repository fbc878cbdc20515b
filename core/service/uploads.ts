import { randomUUID } from "node:crypto"
import { mostUploadBytes, pieceBytes } from "../../shared/desk.ts"
import { ProblemError } from "../../shared/problems.ts"
import type { TableSource } from "../exchange/draft.ts"

/** How long an upload that nobody uses is kept, ms. */
const keptFor = 10 * 60_000

type Upload = { readonly name: string; readonly size: number; readonly pieces: Uint8Array[]; at: number }

/**
 * Files that come in pieces, kept in memory until they are dropped or nobody has used them for ten minutes; all of them
 * together hold no more than one may.
 */
export class Uploads {
  readonly #uploads = new Map<string, Upload>()
  readonly #timers = new Map<string, NodeJS.Timeout>()

  /** Starts an upload of a file of so many bytes and returns its id. Throws ProblemError "bad_input" where there is no room. */
  begin(name: string, size: number): string {
    const waiting = [...this.#uploads.values()].reduce((sum, upload) => sum + upload.size, 0)
    if (waiting + size > mostUploadBytes)
      throw new ProblemError(
        "bad_input",
        `${name} is too large: files waiting to be imported may hold ${mostUploadBytes / 1024 ** 2} MiB together. Split it, or import the others first.`,
        { name, size, waiting },
      )
    const id = randomUUID()
    this.#uploads.set(id, { name, size, pieces: [], at: 0 })
    this.#use(id)
    return id
  }

  /** Adds the next piece, which begins `at` bytes from the start. Throws ProblemError "bad_input" for one out of turn or too large. */
  piece(id: string, at: number, bytes: Uint8Array): void {
    const upload = this.#use(id)
    const { name, size } = upload
    const wrong = (sentence: string) =>
      new ProblemError("bad_input", `${name} did not arrive whole: ${sentence} Choose the file again.`, {
        at,
        bytes: bytes.length,
        have: upload.at,
      })
    if (bytes.length > pieceBytes) throw wrong(`a piece holds at most ${pieceBytes} bytes.`)
    if (at !== upload.at) throw wrong(`a piece from byte ${at} came where ${upload.at} was next.`)
    if (at + bytes.length > size) throw wrong(`more than its ${size} bytes came.`)
    upload.pieces.push(bytes)
    upload.at += bytes.length
  }

  /** A whole upload as a table to read, as often as need be. Throws ProblemError "bad_input" where it is gone or not whole. */
  source(id: string): TableSource {
    const { name, size, pieces, at } = this.#use(id)
    if (at !== size)
      throw new ProblemError("bad_input", `Only ${at} of the ${size} bytes of ${name} have arrived.`, { id })
    return {
      name,
      size,
      bytes: async function* () {
        yield* pieces
      },
    }
  }

  drop(id: string): void {
    clearTimeout(this.#timers.get(id))
    this.#timers.delete(id)
    this.#uploads.delete(id)
  }

  #use(id: string): Upload {
    const upload = this.#uploads.get(id)
    if (upload === undefined)
      throw new ProblemError("bad_input", "That file is no longer kept here. Choose it again.", {
        upload: id,
      })
    clearTimeout(this.#timers.get(id))
    this.#timers.set(id, setTimeout(() => this.drop(id), keptFor).unref())
    return upload
  }
}
