import { quantityFigure, readerUnit } from "../../shared/readerUnits.ts"
import type { DayStrip } from "../../shared/trips.ts"
import { units as unitTable } from "../../shared/units.ts"
import { clockIn, dayLong } from "./clock.ts"
import type { Figure } from "./figure.ts"
import { configOf } from "./config.ts"
import type { Drawing, StripView } from "./stripDrawing.ts"
import { stripLayout } from "./stripLayout.ts"
import { lightLayers, tideDomain, tideLayers } from "./stripSky.ts"
import { stintLayers } from "./stripStints.ts"
import { presentLayers, wordLayers } from "./stripWords.ts"

/**
 * One day from first light to last: light and predicted tide behind, stints as bars by lure class, landed fish as marks,
 * and now where it falls within. It draws the core's numbers and computes none. Stints are numbered in the order of the
 * strip, as in the table beside it, so that colour is never alone in naming them.
 */
export function dayStrip(strip: DayStrip, view: StripView): Figure {
  const em = view.ink.size * (view.size === "row" ? 0.75 : 0.72)
  const lanes = Math.max(0, ...strip.stints.map(({ lane }) => lane + 1))
  const at = stripLayout(view.size, lanes, em)
  const span = Math.max(1, strip.to - strip.from)
  const px = (instant: number) => ((instant - strip.from) / span) * view.width
  const drawing: Drawing = { ...view, strip, at, em, clock: clockIn(strip.zone), px }
  return {
    title: `Day strip, ${dayLong(strip.date)}`,
    said: strip.said,
    table: { head: ["From", "To", "What"], rows: rowsOf(drawing) },
    spec: {
      width: view.width,
      height: at.height,
      padding: 0,
      autosize: { type: "none" },
      params: [
        { name: "span", value: [strip.from, strip.to] },
        { name: "tide", value: tideDomain(drawing) },
      ],
      config: configOf(view.ink, em),
      resolve: { scale: { y: "independent" } },
      layer: [
        ...lightLayers(drawing),
        ...tideLayers(drawing),
        ...stintLayers(drawing),
        ...wordLayers(drawing),
        ...presentLayers(drawing),
      ],
    },
  }
}

/** The day as a table: its light, its high and low waters, its stints. */
function rowsOf({ strip, clock, units }: Drawing): string[][] {
  const symbol = unitTable[readerUnit("m", units)].symbol
  return [
    ...strip.light.map(({ from, to, word }) => [clock.time(from), clock.time(to), word]),
    ...(strip.tide?.waters ?? []).map(({ at, kind, height_m }) => [
      clock.time(at),
      "",
      `${kind} water, ${quantityFigure(height_m, "m", units)} ${symbol}`,
    ]),
    ...strip.stints.map(({ from, to, spot, presentation, lure_class, landed }, i) => [
      clock.time(from),
      clock.time(to),
      [
        `stint ${i + 1}`,
        spot,
        presentation ?? lure_class,
        landed === null ? "not counted" : `${landed} landed`,
      ]
        .filter((part) => part !== null)
        .join(", "),
    ]),
  ]
}
