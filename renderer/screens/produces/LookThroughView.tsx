import { Button } from "react-aria-components"
import { mostQ, type LookThrough } from "../../../shared/answer.ts"
import { factorOf, isFactorId, type FactorId } from "../../../shared/factors.ts"
import { counted, listed, rangeText, ratioFigure } from "../../../shared/figures.ts"
import { chance } from "./chance.ts"
import { Said, unbroken } from "./Said.tsx"

/** Factors that stand out are named, and the strongest told, up to so many. */
const named = 5
const told = 3

/** Every factor looked through, the strongest evidence first; each can be asked about on its own. */
export function LookThroughView({
  looked,
  onAsk,
}: {
  readonly looked: LookThrough
  readonly onAsk: (by: FactorId) => void
}) {
  const out = looked.factors.filter(({ q }) => q !== null && q <= mostQ)
  const names = out.map(({ factor }) => (isFactorId(factor) ? factorOf(factor).label.toLowerCase() : factor))
  const all = counted(looked.looked_at, "factor")
  return (
    <>
      <Said
        text={
          out.length === 0
            ? `None of ${all} stands out, after allowing for all that were looked at.`
            : `${out.length} of ${all} ${out.length === 1 ? "stands" : "stand"} out: ${listed(names, named)}.`
        }
      />
      <ul className="plain-list after">
        {out.slice(0, told).map(({ factor, sentence }) => (
          <li key={factor}>{unbroken(sentence)}</li>
        ))}
      </ul>
      <p className="after">
        Compared within trips; where a factor does not vary within them, as fished or, among the ten
        strongest, with other things held alike. p allows for the pairs within a factor, q for all factors
        looked at: of those up to {mostQ}, one in ten may be chance. What leads here may only go along with
        what matters.
      </p>
      <div className="wide" role="region" aria-label="Every factor" tabIndex={0}>
        <table className="looked">
          <thead>
            <tr>
              <th>Factor</th>
              <th className="words">its strongest pair</th>
              <th>ratio</th>
              <th>95% interval</th>
              <th>p</th>
              <th>q</th>
            </tr>
          </thead>
          <tbody>
            {looked.factors.map(({ factor, size, p, q }) => (
              <tr key={factor}>
                <td>
                  {isFactorId(factor) ? (
                    <Button onPress={() => onAsk(factor)}>{factorOf(factor).label}</Button>
                  ) : (
                    factor
                  )}
                </td>
                <td className="words pair">{size === null ? "too few trips" : size.of}</td>
                <td>{size?.ratio === null || size === null ? "-" : ratioFigure(size.ratio)}</td>
                <td>{size === null ? "none" : rangeText(size.low, size.high, ratioFigure)}</td>
                <td>{chance(p)}</td>
                <td>{chance(q)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {looked.cautions.map(({ code, text }) => (
        <p key={code} className="soft small">
          {text}
        </p>
      ))}
    </>
  )
}
