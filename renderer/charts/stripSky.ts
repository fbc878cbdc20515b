import { quantityFigure, readerUnit } from "../../shared/readerUnits.ts"
import { units as unitTable } from "../../shared/units.ts"
import { along, down, own, type Drawing, type Layer } from "./stripDrawing.ts"

/** Night and twilight shaded; the day is paper. */
export function lightLayers(drawing: Drawing): Layer[] {
  const { strip, ink, at } = drawing
  const shades = { night: ink.night, "first light": ink.dusk, "last light": ink.dusk, day: null }
  const values = strip.light.flatMap(({ from, to, word }) =>
    shades[word] === null ? [] : [{ from, to, shade: shades[word], top: 0, bottom: at.tideBottom }],
  )
  return [
    {
      data: { values },
      mark: { type: "rect", aria: false },
      encoding: {
        x: along("from"),
        x2: { field: "to" },
        y: down("top"),
        y2: { field: "bottom" },
        fill: own("shade"),
      },
    },
  ]
}

/** The share of the tide's range kept free below low water: a little, or room for its words. */
const footroom = { plain: 0.12, worded: 0.32 }

/** The heights between which the tide is drawn: a little more than it ranges over. */
export function tideDomain({ strip: { tide }, at }: Drawing): [number, number] {
  const heights = [...(tide?.points ?? []), ...(tide?.waters ?? [])].map(({ height_m }) => height_m)
  if (heights.length === 0) return [0, 1]
  const [low, high] = [Math.min(...heights), Math.max(...heights)]
  const range = Math.max(high - low, 0.1)
  return [low - (at.words ? footroom.worded : footroom.plain) * range, low + range]
}

/** The predicted tide as a line over the ground line, its high and low waters in words. */
export function tideLayers(drawing: Drawing): Layer[] {
  const { strip, ink, at, em, clock, px, units, width } = drawing
  const ground: Layer = {
    data: { values: [{ from: strip.from, to: strip.to, y: at.tideBottom }] },
    mark: { type: "rule", color: ink.rule, aria: false },
    encoding: { x: along("from"), x2: { field: "to" }, y: down("y") },
  }
  if (strip.tide === null) return [ground]
  const height = {
    field: "height_m",
    type: "quantitative" as const,
    scale: {
      domain: { expr: "tide" },
      range: [at.tideBottom, at.tideTop],
      nice: false,
      zero: false,
    },
    axis: null,
  }
  const curve = { data: { values: strip.tide.points }, encoding: { x: along("at"), y: height } }
  const filled = { ...curve.encoding, y: { ...height, stack: null }, y2: { datum: { expr: "tide[0]" } } }
  const drawn: Layer[] = [
    {
      ...curve,
      encoding: filled,
      mark: { type: "area", color: ink.sea, opacity: 0.1, interpolate: "monotone", aria: false },
    },
    {
      ...curve,
      mark: {
        type: "line",
        color: ink.sea,
        strokeWidth: at.words ? 1.5 : 1,
        interpolate: "monotone",
        aria: false,
      },
    },
    ground,
  ]
  if (!at.words) return drawn
  const symbol = unitTable[readerUnit("m", units)].symbol
  const values = strip.tide.waters.map((water) => ({
    ...water,
    text: `${water.kind} ${clock.time(water.at)}, ${quantityFigure(water.height_m, "m", units, 1)} ${symbol}`,
    align: px(water.at) < 5.5 * em ? "left" : px(water.at) > width - 5.5 * em ? "right" : "center",
    // Over a high water and under a low one, where no slope crosses the words.
    dy: water.kind === "high" ? -0.75 * em : 0.85 * em,
  }))
  return [
    ...drawn,
    {
      data: { values },
      mark: {
        type: "text",
        dy: { expr: "datum.dy" },
        align: { expr: "datum.align" },
        color: ink.soft,
        aria: false,
      },
      encoding: { x: along("at"), y: height, text: { field: "text" } },
    },
  ]
}
