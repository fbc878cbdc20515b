import type { IncomingMessage } from "node:http"
import { z } from "zod"

// What a later start of the same user says to the host that runs already, and hears from it.

export const againPath = "/again"
export const AgainAsk = z.strictObject({
  /** Full path of the logbook named at the later start, or null. */
  file: z.string().min(1).nullable(),
})
export type AgainAsk = z.infer<typeof AgainAsk>
export const AgainAnswer = z.strictObject({ link: z.string() })
export type AgainAnswer = z.infer<typeof AgainAnswer>

const mostBytes = 16 * 1024

/** The JSON body of a small request; null where it is none or too large. */
export async function smallJson(request: IncomingMessage): Promise<unknown> {
  const parts: Buffer[] = []
  let bytes = 0
  for await (const part of request) {
    const piece = Buffer.from(z.instanceof(Uint8Array).parse(part))
    bytes += piece.length
    if (bytes > mostBytes) return null
    parts.push(piece)
  }
  try {
    return JSON.parse(Buffer.concat(parts).toString("utf8"))
  } catch {
    return null
  }
}
