import { units } from "../../../shared/units.ts"

const symbols = Object.values(units)
  .map(({ symbol }) => symbol.replaceAll(/[$()*+.?[\\\]^{|}]/g, String.raw`\$&`))
  .filter((symbol) => symbol !== "")
const beforeUnit = new RegExp(String.raw`(?<=\d) (?=(?:${symbols.join("|")})(?!\p{L}))`, "gu")

/** A text whose figures are not parted from their units, nor a level ("2-<4 s") in its middle, where a line ends. */
export const unbroken = (text: string): string =>
  text.replaceAll("-<", "-\u{2060}<").replaceAll(beforeUnit, "\u{A0}")

/** What an answer says, read out when it changes: the rest of the page is there to be looked through. So many of its sentences
 *  lead, all where it is not said. */
export function Said({ text, leading }: { readonly text: string; readonly leading?: number }) {
  const sentences = unbroken(text).split(/(?<=\.) /)
  const after = leading === undefined ? [] : sentences.slice(leading)
  return (
    <div aria-live="polite">
      <h2 className="said">{sentences.slice(0, leading).join(" ")}</h2>
      {after.length === 0 ? null : <p className="after">{after.join(" ")}</p>}
    </div>
  )
}
