import { compile, type TopLevelSpec } from "vega-lite"
import { expressionInterpreter } from "vega-interpreter"
import { parse, View, type Loader, type Runtime } from "vega"
import type { Figure } from "./figure.ts"
import { parted, type Parted } from "./parted.ts"

/** A loader that refuses every address: a chart draws what it was given. */
const nothing: Loader = {
  load: () => Promise.reject(new Error("charts load nothing")),
  sanitize: () => Promise.reject(new Error("charts load nothing")),
  http: () => Promise.reject(new Error("charts load nothing")),
  file: () => Promise.reject(new Error("charts load nothing")),
}

/** A shape is made ready once, and kept while it is among so many used last: a window that is pulled wider makes many. */
const mostShapes = 40
const ready = new Map<string, Runtime>()

function readyFor(shape: string): Runtime {
  const runtime = ready.get(shape) ?? parse(compile(specOf(shape)).spec, {}, { ast: true })
  ready.delete(shape)
  ready.set(shape, runtime)
  const [oldest] = ready.keys()
  if (ready.size > mostShapes && oldest !== undefined) ready.delete(oldest)
  return runtime
}

function specOf(shape: string): TopLevelSpec {
  const spec: unknown = JSON.parse(shape)
  if (!isSpec(spec)) throw new TypeError("a shape is the text of a specification")
  return spec
}
const isSpec = (value: unknown): value is TopLevelSpec => typeof value === "object" && value !== null

/** Gives a view of the picture's shape its content. */
export function fill(view: View, { data, params }: Parted): View {
  for (const { name, value } of params) view.signal(name, value)
  // Vega marks what it is given as its own, so each view gets copies.
  for (const { name, values } of data) view.data(name, values.map(copyOf))
  return view
}
const copyOf = (value: unknown): unknown =>
  typeof value === "object" && value !== null ? { ...value } : value

const filled = (picture: Parted): View =>
  fill(
    new View(readyFor(picture.shape), { expr: expressionInterpreter, loader: nothing, renderer: "svg" }),
    picture,
  )

/** A figure made ready to draw, without evaluating any text as code. */
export const viewOf = (figure: Figure): View => filled(parted(figure.spec))

/** A place on the page where one figure after another is drawn. */
export type Easel = { readonly draw: (figure: Figure) => void; readonly clear: () => void }

/** Draws in an element; a figure of the same shape as the one before only changes what differs in it. */
export function easelIn(holder: HTMLElement): Easel {
  let drawn: { readonly view: View; readonly shape: string } | null = null
  const clear = () => {
    drawn?.view.finalize()
    drawn = null
  }
  return {
    draw: (figure) => {
      const picture = parted(figure.spec)
      if (drawn?.shape === picture.shape) fill(drawn.view, picture)
      else {
        clear()
        drawn = { view: filled(picture).initialize(holder), shape: picture.shape }
      }
      void drawn.view.runAsync()
    },
    clear,
  }
}
