import type { TrackListed } from "../../shared/tracks.ts"
import type { Ink } from "./figure.ts"

type Position = [lon: number, lat: number]

/** Lines of a map with a colour and a width in pixels; drawn in their order. */
export type MapLine = { readonly lines: Position[][]; readonly stroke: string; readonly width: number }

/** A layer of such lines. */
export const lineLayer = (lines: readonly MapLine[]) => ({
  data: {
    values: lines.map(({ lines: coordinates, stroke, width }) => ({
      type: "MultiLineString",
      coordinates,
      stroke,
      width,
    })),
  },
  mark: { type: "geoshape" as const, filled: false, strokeJoin: "round" as const, clip: true, aria: false },
  encoding: {
    stroke: { field: "stroke", type: "nominal" as const, scale: null },
    strokeWidth: { field: "width", type: "quantitative" as const, scale: null },
  },
})

/** Tracks as lines; the chosen one is heavier, and lies above the others. */
export const trackLines = (tracks: readonly TrackListed[], chosen: string | null, ink: Ink): MapLine[] =>
  tracks
    .toSorted((a, b) => Number(a.id === chosen) - Number(b.id === chosen))
    .map(({ id, points }) => ({
      lines: points.map((stretch) => stretch.map(([lon, lat]): Position => [lon, lat])),
      stroke: id === chosen ? ink.ink : ink.soft,
      width: id === chosen ? 1.8 : 0.8,
    }))

/** The places that a map must hold for the chosen track, or for all where none is chosen. */
export const placesOf = (
  tracks: readonly TrackListed[],
  chosen: string | null,
): { readonly lat: number; readonly lon: number }[] =>
  tracks
    .filter(({ id }) => chosen === null || id === chosen)
    .flatMap(({ points }) => points.flat().map(([lon, lat]) => ({ lat, lon })))
