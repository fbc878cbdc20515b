import { readFile, realpath, stat } from "node:fs/promises"
import { extname, join, sep } from "node:path"

const types: Readonly<Record<string, string>> = {
  ".css": "text/css; charset=utf-8",
  ".html": "text/html; charset=utf-8",
  ".ico": "image/x-icon",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".png": "image/png",
  ".svg": "image/svg+xml",
  ".woff2": "font/woff2",
}

export type PageFile = { readonly type: string; readonly bytes: Uint8Array<ArrayBuffer> }

/**
 * A file of the built page by the path of its address, percent-encoded as it came; `/` is the page itself. Null for what
 * is not there, is of no known kind, or lies outside the folder, by dots or by a link.
 */
export async function pageFile(folder: string, path: string): Promise<PageFile | null> {
  const name = plainName(path)
  if (name === null) return null
  const type = types[extname(name)]
  if (type === undefined) return null
  try {
    const root = await realpath(folder)
    const file = await realpath(join(root, name))
    if (!file.startsWith(root + sep) || !(await stat(file)).isFile()) return null
    return { type, bytes: new Uint8Array(await readFile(file)) }
  } catch {
    return null
  }
}

/** A path inside the folder, or null where any part of it is not a plain name. */
function plainName(path: string): string | null {
  let decoded: string
  try {
    decoded = decodeURIComponent(path)
  } catch {
    return null
  }
  if (decoded === "/") return "index.html"
  const parts = decoded.slice(1).split("/")
  const plain = decoded.startsWith("/") && parts.every((part) => /^[A-Za-z0-9_-][A-Za-z0-9._-]*$/.test(part))
  return plain ? parts.join("/") : null
}
