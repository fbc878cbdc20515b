import type { TopLevelSpec } from "vega-lite"
import { counted } from "../../shared/figures.ts"
import type { CoastLand } from "../../shared/places.ts"
import type { TrackListed } from "../../shared/tracks.ts"
import type { Figure, Ink } from "./figure.ts"
import { degreesText, linesIn, stepFor } from "./graticule.ts"
import { radians, shape, type MapBox } from "./mapBox.ts"
import { labelled, type MapPlace } from "./mapLabels.ts"
import { lineLayer, trackLines } from "./mapLines.ts"
import { configOf } from "./config.ts"

/** How a map is to be drawn. `width` in pixels; `stations`: where the tides of the spots come from. */
export type MapView = {
  readonly width: number
  readonly ink: Ink
  readonly chosen: string | null
  readonly land: CoastLand
  readonly stations: readonly MapPlace[]
  readonly tracks: readonly TrackListed[]
  readonly chosenTrack: string | null
}

/** Lengths of a scale's bar, km. */
const bars = [1, 2, 5, 10, 20, 50, 100, 200]

/** The user's own spots on an offline coast, with a graticule and a scale; what is chosen is filled. */
export function spotMap(spots: readonly MapPlace[], box: MapBox, view: MapView): Figure {
  const { width, ink, chosen, land, stations, tracks, chosenTrack } = view
  const em = ink.size * 0.78
  const height = Math.round(width / shape)
  const scale = width / radians(box.east - box.west)
  const middle: [number, number] = [(box.west + box.east) / 2, (box.south + box.north) / 2]
  const projection = {
    type: "mercator" as const,
    center: middle,
    scale,
    translate: [width / 2, height / 2] as [number, number],
  }
  const step = stepFor(box.north - box.south)
  const meridians = linesIn(box.west, box.east, step)
  const parallels = linesIn(box.south, box.north, step)
  const at = {
    longitude: { field: "lon", type: "quantitative" as const },
    latitude: { field: "lat", type: "quantitative" as const },
  }
  const narrow = width < 34 * em
  const pixelsInKm = scale / 6371 / Math.cos(radians(middle[1]))
  const bar = bars.findLast((km) => km * pixelsInKm < width / 4) ?? 1
  const nearEdge = (lat: number) => Math.abs(lat - box.south) < (box.north - box.south) * 0.06
  const spec: TopLevelSpec = {
    width,
    height,
    padding: 0,
    autosize: { type: "none" },
    config: configOf(ink, em),
    projection,
    layer: [
      {
        data: { values: land.map((rings) => ({ type: "Polygon", coordinates: rings })) },
        mark: {
          type: "geoshape",
          fill: ink.dusk,
          stroke: ink.soft,
          strokeWidth: 0.6,
          clip: true,
          aria: false,
        },
        encoding: {},
      },
      lineLayer([
        {
          lines: [
            ...meridians.map((lon): [number, number][] => [
              [lon, box.south],
              [lon, box.north],
            ]),
            ...parallels.map((lat): [number, number][] => [
              [box.west, lat],
              [box.east, lat],
            ]),
          ],
          stroke: ink.rule,
          width: 0.7,
        },
        ...trackLines(tracks, chosenTrack, ink),
        { lines: [scaleBar(box, width, bar * pixelsInKm, em)], stroke: ink.ink, width: 1.4 },
      ]),
      {
        data: {
          values: [
            ...parallels
              .filter((lat) => !nearEdge(lat))
              .map((lat) => ({
                lat,
                lon: box.west + (box.east - box.west) * 0.008,
                text: degreesText(lat, ["N", "S"]),
              })),
            ...meridians.map((lon) => ({
              lat: box.south + (box.north - box.south) * 0.025,
              lon: lon + (box.east - box.west) * 0.006,
              text: degreesText(lon, ["E", "W"]),
            })),
          ],
        },
        mark: {
          type: "text",
          align: "left",
          dy: -em * 0.45,
          fontSize: em * 0.88,
          color: ink.soft,
          aria: false,
        },
        encoding: { ...at, text: { field: "text" } },
      },
      {
        data: { values: stations.map(({ lat, lon, name }) => ({ lat, lon, name })) },
        layer: [
          {
            mark: {
              type: "point",
              shape: "triangle-up",
              size: em * 4,
              color: ink.soft,
              filled: false,
              aria: false,
            },
            encoding: at,
          },
        ],
      },
      {
        data: {
          values: spots.map(({ id, lat, lon }) => ({
            lat,
            lon,
            fill: id === chosen ? ink.ink : ink.paper,
            size: em * (id === chosen ? 7 : 4.5),
          })),
        },
        mark: { type: "point", filled: true, stroke: ink.ink, strokeWidth: 1.5, opacity: 1, aria: false },
        encoding: {
          ...at,
          fill: { field: "fill", type: "nominal", scale: null },
          size: { field: "size", type: "quantitative", scale: null },
        },
      },
      {
        data: {
          values: labelled(spots, box, narrow).map((label) => ({
            ...label,
            weight: label.id === chosen ? "bold" : "normal",
          })),
        },
        layer: (["left", "right"] as const).map((align) => ({
          transform: [{ filter: `datum.align == '${align}'` }],
          mark: {
            type: "text" as const,
            align,
            dx: align === "left" ? em * 0.7 : -em * 0.7,
            color: ink.ink,
            stroke: ink.paper,
            strokeWidth: 0,
            fontWeight: { expr: "datum.weight" },
            aria: false,
          },
          encoding: { ...at, text: { field: "text" } },
        })),
      },
      {
        data: { values: [{}] },
        mark: {
          type: "text",
          x: width - em,
          y: em * 1.3,
          align: "right",
          text: `${bar} km`,
          color: ink.ink,
          aria: false,
        },
        encoding: {},
      },
    ],
  }
  return {
    title: "Spots on the map",
    said: [
      ...spots.map(({ name, lat, lon }) => `${name} at ${placeText(lat, lon)}.`),
      ...(tracks.length === 0 ? [] : [`${counted(tracks.length, "track")}, listed below.`]),
    ].join(" "),
    table: {
      head: ["Spot", "Code", "Place"],
      rows: spots.map(({ name, code, lat, lon }) => [name, code ?? "", placeText(lat, lon)]),
    },
    spec,
  }
}

/** A place in decimal degrees, as it can be typed again. */
export const placeText = (lat: number, lon: number): string => `${lat.toFixed(5)}, ${lon.toFixed(5)}`

/** A line so many pixels long in the upper right corner, as places. */
function scaleBar(box: MapBox, width: number, long: number, em: number): [number, number][] {
  const perPixel = (box.east - box.west) / width
  const east = box.east - em * perPixel
  const lat = box.north - 2.3 * em * perPixel * Math.cos(radians(box.north))
  return [
    [east - long * perPixel, lat],
    [east, lat],
  ]
}
