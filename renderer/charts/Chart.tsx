import { useEffect, useRef } from "react"
import type { Figure } from "./figure.ts"
import { easelIn, type Easel } from "./view.ts"

/** Draws a figure as one picture with its words; a table of the same numbers belongs beside it. */
export default function Chart({ figure }: { readonly figure: Figure }) {
  const place = useRef<HTMLDivElement>(null)
  const easel = useRef<Easel | null>(null)
  useEffect(() => {
    if (place.current === null) return
    easel.current ??= easelIn(place.current)
    easel.current.draw(figure)
  }, [figure])
  useEffect(
    () => () => {
      easel.current?.clear()
      easel.current = null
    },
    [],
  )
  return (
    <div role="img" aria-label={`${figure.title}. ${figure.said}`}>
      <div ref={place} aria-hidden="true" className="drawn" />
    </div>
  )
}
