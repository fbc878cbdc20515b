import { lazy, Suspense, useEffect, useMemo, useRef, useState } from "react"
import type { Figure } from "./figure.ts"

/** The drawing library comes when the first chart is wanted; until then its place is kept. */
const Chart = lazy(() => import("./Chart.tsx"))

/** A chart as wide as its place, drawn again when that changes. `figureAt` makes the figure for a width in pixels. */
export function LazyChart({
  figureAt,
  height,
}: {
  readonly figureAt: (width: number) => Figure
  readonly height: string
}) {
  const place = useRef<HTMLDivElement>(null)
  const [width, setWidth] = useState(0)
  useEffect(() => {
    const holder = place.current
    if (holder === null) return
    const watcher = new ResizeObserver(([entry]) => setWidth(Math.floor(entry?.contentRect.width ?? 0)))
    watcher.observe(holder)
    return () => watcher.disconnect()
  }, [])
  const figure = useMemo(() => (width === 0 ? null : figureAt(width)), [figureAt, width])
  return (
    <div ref={place} style={{ minHeight: height }}>
      {figure === null ? null : (
        <Suspense fallback={null}>
          <Chart figure={figure} />
        </Suspense>
      )}
    </div>
  )
}
