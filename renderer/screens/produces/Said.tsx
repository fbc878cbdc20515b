import { units } from "../../../shared/units.ts"

const symbols = Object.values(units)
  .map(({ symbol }) => symbol.replaceAll(/[$()*+.?[\\\]^{|}]/g, String.raw`\$&`))
  .filter((symbol) => symbol !== "")
const beforeUnit = new RegExp(String.raw`(?<=\d) (?=(?:${symbols.join("|")})(?!\p{L}))`, "gu")

/** A text whose figures are not parted from their units, nor a level ("2-<4 s") in its middle, where a line ends. */
export const unbroken = (text: string): string =>
  text.replaceAll("-<", "-\u{2060}<").replaceAll(beforeUnit, "\u{A0}")

/** What an answer says, read out when it changes: the rest of the page is there to be looked through. */
export const Said = ({ lead, rest }: { readonly lead: string; readonly rest: string }) => (
  <div aria-live="polite">
    <h2 className="said">{unbroken(lead)}</h2>
    {rest === "" ? null : <p className="after">{unbroken(rest)}</p>}
  </div>
)
