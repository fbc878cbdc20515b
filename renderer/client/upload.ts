import { mostUploadBytes, pieceBytes } from "../../shared/desk.ts"
import { ProblemError } from "../../shared/problems.ts"
import type { Client } from "../../shared/rpc.ts"

/** Sends a file to the core in pieces and gives the upload's id. Throws a ProblemError where it is too large. */
export async function upload(client: Client, file: File): Promise<{ upload: string }> {
  if (file.size > mostUploadBytes)
    throw new ProblemError(
      "bad_input",
      `${file.name} has ${Math.round(file.size / 2 ** 20)} MB; at most ${mostUploadBytes / 2 ** 20} MB can be taken at once. Split it.`,
    )
  const { upload: id } = await client.call("upload.begin", { name: file.name, bytes: file.size })
  for (let at = 0; at < file.size; at += pieceBytes) {
    const bytes = new Uint8Array(await file.slice(at, at + pieceBytes).arrayBuffer())
    await client.call("upload.piece", { upload: id, at, bytes })
  }
  return { upload: id }
}
