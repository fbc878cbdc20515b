import type { TopLevelSpec } from "vega-lite"

/** A picture as data: what is drawn, the same in words for those who cannot see it, and as a table. */
export type Figure = {
  readonly title: string
  readonly said: string
  readonly table: { readonly head: readonly string[]; readonly rows: readonly (readonly string[])[] }
  readonly spec: TopLevelSpec
}

/** A figure of nothing, where there is none to draw. */
export const nothingDrawn: Figure = {
  title: "",
  said: "",
  table: { head: [], rows: [] },
  spec: { mark: "point", data: { values: [] } },
}

/** Colours and type of the page, by theme; charts are drawn in them. */
export type Ink = {
  readonly ink: string
  readonly soft: string
  readonly rule: string
  readonly paper: string
  readonly sea: string
  readonly night: string
  readonly dusk: string
  /** For lure classes and nothing else; told apart by those who see few colours, and always named beside. */
  readonly classes: readonly string[]
  readonly size: number
}
