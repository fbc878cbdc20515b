import { useEffect, useRef } from "react"
import { compile } from "vega-lite"
import { expressionInterpreter } from "vega-interpreter"
import { parse, View, type Loader } from "vega"
import type { Figure } from "./figure.ts"

/** A loader that refuses every address: a chart draws what it was given. */
const nothing: Loader = {
  load: () => Promise.reject(new Error("charts load nothing")),
  sanitize: () => Promise.reject(new Error("charts load nothing")),
  http: () => Promise.reject(new Error("charts load nothing")),
  file: () => Promise.reject(new Error("charts load nothing")),
}

/** A figure made ready to draw, without evaluating any text as code. */
export const viewOf = (figure: Figure): View =>
  new View(parse(compile(figure.spec).spec, {}, { ast: true }), {
    expr: expressionInterpreter,
    loader: nothing,
    renderer: "svg",
  })

/** Draws a figure as one picture with its words; a table of the same numbers belongs beside it. */
export default function Chart({ figure }: { readonly figure: Figure }) {
  const place = useRef<HTMLDivElement>(null)
  useEffect(() => {
    const holder = place.current
    if (holder === null) return
    const view = viewOf(figure).initialize(holder)
    void view.runAsync()
    return () => void view.finalize()
  }, [figure])
  return (
    <div role="img" aria-label={`${figure.title}. ${figure.said}`}>
      <div ref={place} aria-hidden="true" className="drawn" />
    </div>
  )
}
