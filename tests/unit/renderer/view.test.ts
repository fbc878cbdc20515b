import { expect, test } from "vitest"
import { parse, View } from "vega"
import { expressionInterpreter } from "vega-interpreter"
import { compile } from "vega-lite"
import { diagnostics } from "../../../renderer/charts/diagnostics.ts"
import type { Figure } from "../../../renderer/charts/figure.ts"
import { printInk } from "../../../renderer/charts/ink.ts"
import { parted } from "../../../renderer/charts/parted.ts"
import { rateIntervals } from "../../../renderer/charts/rateIntervals.ts"
import { fill, viewOf } from "../../../renderer/charts/view.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { compared } from "../questions/compared.ts"
import { overTrips } from "../questions/factsOf.ts"

const ink = printInk(16)
const stints = ["jig", "cork", "spoon"].flatMap((lure_class, lure) =>
  overTrips("trip", 20 - 6 * lure, (i) => ({
    strikes: Array.from({ length: (i + lure) % 4 }, (_, k) => ({
      fate: (i + k) % 3 === 0 ? ("missed" as const) : ("landed" as const),
    })),
    factors: { lure_class, light: i % 2 === 0 ? "day" : "night" },
  })),
)
const ofStrikes = compared(stints, { outcome: "strike_rate", by: "lure_class" })
const rates = (outcome: "strike_rate" | "landed_rate", by: "lure_class" | "light"): Figure =>
  rateIntervals(compared(stints, { outcome, by, basis: "raw" }), presets.metric, ink, 700)
const fit = diagnostics(ofStrikes, ink, 700)

/** What Vega-Lite makes of a figure's whole specification, values in place. */
const plainly = ({ spec }: Figure): Promise<string> =>
  new View(parse(compile(spec).spec, {}, { ast: true }), { expr: expressionInterpreter }).toSVG()
/** Names of clip paths are counted through a page. */
const unnumbered = (svg: string): string => svg.replaceAll(/clip\d+|gradient_\d+/g, "own")

test.each([
  ["rates", rates("strike_rate", "lure_class")],
  ["how a model fits", fit],
])(
  "a figure parted into shape and content is the picture its whole specification makes: %s",
  async (_, figure) => {
    if (figure === null) throw new Error("There is a figure.")
    const drawn = await viewOf(figure).toSVG()
    expect(drawn).toMatch(/<path|<text/)
    expect(unnumbered(drawn)).toBe(unnumbered(await plainly(figure)))
  },
)

test("a view given the content of another figure of its shape shows that figure", async () => {
  const [first, second] = [rates("strike_rate", "lure_class"), rates("landed_rate", "light")]
  expect(parted(first.spec).shape).toBe(parted(second.spec).shape)
  const view = viewOf(first)
  const before = await view.toSVG()
  const after = await fill(view, parted(second.spec)).toSVG()
  expect(after).not.toBe(before)
  expect(unnumbered(after)).toBe(unnumbered(await plainly(second)))
})
