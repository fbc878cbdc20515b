import type { Ink } from "./figure.ts"

/** What all charts share: their ground, their type and their rules. `em` in pixels. */
export const configOf = (ink: Ink, em: number) => ({
  background: "transparent",
  font: "Inter",
  view: { stroke: null },
  text: { font: "Inter", fontSize: em },
  axis: {
    labelFont: "Inter",
    labelFontSize: em * 0.92,
    labelColor: ink.soft,
    gridColor: ink.rule,
    labelPadding: em * 0.5,
  },
})
