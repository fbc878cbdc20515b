// Weights of jig heads in cases/conditions/12-jig.json: the avoirdupois ounce of NIST SP 811 (2008), Appendix B.8 (from memory),
// and the sizes that the trade sells (common practice, no source). Sink rates are never predicted here, as the file itself advises
// (a body of unknown drag moves them by a factor of three): a rig keeps counted seconds to a known depth, so the cases of
// predicted rates, of terminal speed and of drift have nothing to check.
import { expect, test } from "vitest"
import { z } from "zod"
import { readFactor } from "../../core/exchange/read/factorCell.ts"
import { presets, quantityText } from "../../shared/readerUnits.ts"
import { difference, readCaseFile } from "./case.ts"

const Heads = z.object({ rows: z.array(z.object({ head: z.string(), mass_g: z.number() })) })
const [terminal] = z
  .array(z.object({ id: z.literal("jig-terminal"), expected: Heads }).or(z.object({ id: z.string() })))
  .parse(JSON.parse(readCaseFile("conditions/12-jig.json")))
if (terminal === undefined || !("expected" in terminal)) throw new Error("no case of heads")
const { rows } = terminal.expected

test.each(rows)(
  "a head of $head is read as $mass_g g and told again as it was written",
  ({ head, mass_g }) => {
    const read = readFactor("head_weight_g", null, head, false)
    const grams = read.kind === "read" ? Number(read.value) : NaN
    // The case gives thousandths of a gram.
    expect(difference(grams, mass_g, { rel: 0, abs: 0.0005 }, head)).toBeNull()
    for (const stored of [grams, mass_g]) expect(quantityText(stored, "g", presets.us)).toBe(head)
  },
)

test.each([
  [28.349523125, "1 oz"],
  [42.5243, "1 1/2 oz"],
  [0.8859, "1/32 oz"],
  [5, "0.18 oz"],
  [3.5, "0.12 oz"], // a metric head that is near an eighth and none
  [0, "0.00 oz"],
])("%f g are %s", (grams, text) => {
  expect(quantityText(grams, "g", presets.us)).toBe(text)
})
