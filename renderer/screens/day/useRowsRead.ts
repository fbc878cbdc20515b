import { useEffect, useLayoutEffect, useState, type RefObject } from "react"

/**
 * Gives each line's reading as many rows as its line has on the page (`--rows`), after every render and when the page changes its
 * width; returns which readings are longer than that, by the line's number from 0.
 */
export function useRowsRead(readings: RefObject<HTMLElement | null>): ReadonlySet<number> {
  const [cut, setCut] = useState<ReadonlySet<number>>(new Set())
  const [, setWidth] = useState(0)
  useEffect(() => {
    const watched = readings.current
    if (watched === null) return
    const watcher = new ResizeObserver(([entry]) => setWidth(entry?.contentRect.width ?? 0))
    watcher.observe(watched)
    return () => watcher.disconnect()
  }, [readings])
  useLayoutEffect(() => {
    // All measured before anything is changed, so that the page is laid out once.
    const lines = [...(readings.current?.children ?? [])].map(({ firstElementChild, lastElementChild }) => ({
      said: lastElementChild,
      rows: firstElementChild === null ? "1" : String(rowsOf(firstElementChild)),
    }))
    for (const { said, rows } of lines)
      if (said instanceof HTMLElement && said.style.getPropertyValue("--rows") !== rows)
        said.style.setProperty("--rows", rows)
    const now = lines.flatMap(({ said }, i) =>
      said !== null && said.scrollHeight > said.clientHeight + 1 ? [i] : [],
    )
    setCut((before) =>
      now.length === before.size && now.every((i) => before.has(i)) ? before : new Set(now),
    )
  })
  return cut
}

const rowsOf = (mark: Element): number =>
  Math.max(1, Math.round(mark.clientHeight / Number.parseFloat(getComputedStyle(mark).lineHeight)))
