import type { TopLevelSpec } from "vega-lite"
import { configOf } from "./config.ts"
import type { Ink } from "./figure.ts"

type Layers = Extract<Extract<TopLevelSpec, { facet: unknown }>["spec"], { layer: unknown }>["layer"]

/** Small panels. `room` (ems): what one of them wants at least; `height` of one in ems; `layer`: what is drawn in each. */
export type Panels = {
  /** The field `level` of the values parts them; in this order. */
  readonly levels: readonly string[]
  readonly values: object[]
  readonly room: number
  readonly height: number
  readonly layer: Layers
}

/** A panel a level, three side by side at most. `width` and `em` in pixels. */
export function panels(
  { levels, values, room, height, layer }: Panels,
  { ink, em, width }: { readonly ink: Ink; readonly em: number; readonly width: number },
): TopLevelSpec {
  const columns = Math.max(1, Math.min(3, Math.floor(width / (room * em))))
  const axis = 5
  return {
    config: {
      ...configOf(ink, em),
      header: { labelFont: "Inter", labelFontSize: em, labelColor: ink.ink, title: null },
    },
    data: { values },
    facet: { field: "level", type: "nominal", sort: [...levels], title: null },
    columns,
    spec: {
      width: Math.max((room - axis - 1) * em, width / columns - axis * em),
      height: height * em,
      layer,
    },
  }
}
