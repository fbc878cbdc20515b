import type { TopLevelSpec } from "vega-lite"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import type { DayStrip } from "../../shared/trips.ts"
import type { Clock } from "./clock.ts"
import type { StripLayout, StripSize } from "./stripLayout.ts"
import type { Ink } from "./figure.ts"

/** How a day strip is to be drawn. `width` in pixels; `classes`: the logbook's lure classes, sorted; `now` in UTC ms, or null. */
export type StripView = {
  readonly size: StripSize
  readonly width: number
  readonly classes: readonly string[]
  readonly units: ReaderUnits
  readonly ink: Ink
  readonly now: number | null
}

export type Layer = Extract<TopLevelSpec, { readonly layer: unknown }>["layer"][number]

/** What every layer is made from. `px`: pixels from the left of an instant. */
export type Drawing = StripView & {
  readonly strip: DayStrip
  readonly at: StripLayout
  readonly em: number
  readonly clock: Clock
  readonly px: (instant: number) => number
}

/** The place of an instant across the strip. */
export const along = (field: string) => ({
  field,
  type: "quantitative" as const,
  scale: { domain: { expr: "span" }, nice: false, zero: false },
  axis: null,
})
/** Pixels from the top, and a colour, taken as they are. */
export const down = (field: string) => ({ field, type: "quantitative" as const, scale: null, axis: null })
export const own = (field: string) => ({ field, type: "nominal" as const, scale: null })

/** Words at an instant, `y` pixels from the top, cut after `limit` pixels. */
export type Written = {
  readonly at: number
  readonly y: number
  readonly text: string
  readonly align: string
  readonly limit: number
}

export const written = (drawing: Drawing, values: readonly Written[]): Layer => ({
  data: { values: [...values] },
  mark: {
    type: "text",
    align: { expr: "datum.align" },
    limit: { expr: "datum.limit" },
    color: drawing.ink.soft,
    aria: false,
  },
  encoding: { x: along("at"), y: down("y"), text: { field: "text" } },
})
