import { classInk } from "./classInk.ts"
import { along, down, own, type Drawing, type Layer } from "./stripDrawing.ts"

/** Bars in their lanes, numbered where there is room, and fish: filled at their own time, open where only their stint is known. */
export function stintLayers(drawing: Drawing): Layer[] {
  const { strip, ink, at, em, px, classes } = drawing
  const { lane } = at
  if (lane === null) return []
  const bars = strip.stints.map((stint, i) => {
    const { colour, open } = classInk(stint.lure_class, classes, ink)
    const { top, bottom } = lane(stint.lane)
    return {
      from: stint.from,
      to: stint.to,
      top,
      bottom,
      colour,
      middle: (top + bottom) / 2,
      fill: open ? "transparent" : colour,
      number: at.words && px(stint.to) - px(stint.from) > 1.5 * em ? String(i + 1) : "",
      numberInk: open ? ink.ink : ink.paper,
    }
  })
  const laneOf = new Map(strip.stints.map((stint) => [stint.id, stint.lane]))
  const fish = strip.fish.map((one) => ({
    at: one.at,
    y: lane(laneOf.get(one.stint) ?? 0).fish,
    fill: one.known || !at.words ? ink.ink : ink.paper,
  }))
  return [
    {
      data: { values: bars },
      mark: { type: "rect", strokeWidth: 1, aria: false },
      encoding: {
        x: along("from"),
        x2: { field: "to" },
        y: down("top"),
        y2: { field: "bottom" },
        fill: own("fill"),
        // Stints that touch are parted by a hair of paper; outlines keep their own colour.
        stroke: {
          condition: { test: "datum.fill === 'transparent'", field: "colour", type: "nominal", scale: null },
          value: ink.paper,
        },
      },
    },
    {
      data: { values: bars.filter(({ number }) => number !== "") },
      mark: { type: "text", align: "left", dx: 0.35 * em, fontSize: 0.88 * em, fontWeight: 600, aria: false },
      encoding: {
        x: along("from"),
        y: down("middle"),
        text: { field: "number" },
        fill: own("numberInk"),
      },
    },
    {
      data: { values: fish },
      mark: {
        type: "point",
        shape: "triangle-down",
        size: at.fishSize,
        stroke: ink.ink,
        strokeWidth: 1,
        opacity: 1,
        aria: false,
      },
      encoding: { x: along("at"), y: down("y"), fill: own("fill") },
    },
  ]
}
