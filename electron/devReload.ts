import { watch } from "node:fs"
import { join } from "node:path"
import type { CoreThread } from "./coreThread.ts"
import { pageFile, type PageFile } from "./pages.ts"

const settleMs = 300
const script = `
let version = null
setInterval(async () => {
  const answer = await fetch("/dev-version").catch(() => null)
  if (answer === null) return
  const now = await answer.text()
  if (version !== null && now !== version) location.reload()
  version = now
}, 500)
`

/**
 * For work on the product itself: watches the built page and the core's source. An edit of the core starts it again; either
 * reloads every window, by a small script that is added to the page.
 */
export function devReload(
  root: string,
  pages: string,
  core: CoreThread,
): { readonly extraFile: (path: string) => Promise<PageFile | null>; readonly stop: () => void } {
  let version = 1
  const reload = (): void => void (version += 1)
  const watchers = [
    watch(pages, { recursive: true }, settled(reload)),
    ...["core", "shared", "migrations"].map((folder) =>
      watch(
        join(root, folder),
        { recursive: true },
        settled(() => void core.restart().then(reload)),
      ),
    ),
  ]
  const extraFile = async (path: string): Promise<PageFile | null> => {
    if (path === "/dev-version") return textFile("text/plain; charset=utf-8", String(version))
    if (path === "/dev-reload.js") return textFile("text/javascript; charset=utf-8", script)
    if (path !== "/") return null
    const page = await pageFile(pages, "/")
    if (page === null) return null
    const html = Buffer.from(page.bytes).toString("utf8")
    return textFile(page.type, html.replace("</head>", `<script src="/dev-reload.js"></script></head>`))
  }
  return {
    extraFile,
    stop: () => {
      for (const watcher of watchers) watcher.close()
    },
  }
}

function textFile(type: string, text: string): PageFile {
  return { type, bytes: new TextEncoder().encode(text) }
}

/** Runs an act once things have been quiet for a moment: an editor saves a file in several steps. */
function settled(act: () => void): () => void {
  let timer: NodeJS.Timeout | undefined
  return () => {
    clearTimeout(timer)
    timer = setTimeout(act, settleMs)
  }
}
