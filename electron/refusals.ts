import type { ServerResponse } from "node:http"
import { pageHeaders } from "./policy.ts"

/** Why a request is not answered, in words for whoever made it. */
export type Refusal = { readonly status: number; readonly text: string }
export const misdirected: Refusal = { status: 421, text: "This host answers only to its own address." }
export const foreign: Refusal = { status: 403, text: "This host answers only to its own pages." }
export const uninvited: Refusal = {
  status: 403,
  text: "A window of Stintbook opens with a link that works once. Start Stintbook again to get one.",
}
export const notThere: Refusal = { status: 404, text: "There is no such page." }
export const notAllowed: Refusal = { status: 405, text: "Pages can only be read." }
export const tooMany: Refusal = { status: 503, text: "Too many windows are open. Close some of them." }
export const unreadable: Refusal = { status: 400, text: "The request could not be read." }

/** Refuses a request in plain text, under the same headers as a page. */
export function refuse(response: ServerResponse, { status, text }: Refusal): void {
  response.writeHead(status, {
    ...pageHeaders,
    "Content-Type": "text/plain; charset=utf-8",
    Connection: "close",
  })
  response.end(`${text}\n`)
}
