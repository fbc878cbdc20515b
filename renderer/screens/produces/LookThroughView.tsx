import { Button } from "react-aria-components"
import type { LookThrough } from "../../../shared/answer.ts"
import { factorOf, isFactorId, type FactorId } from "../../../shared/factors.ts"
import { rangeText, ratioFigure } from "../../../shared/figures.ts"
import { chance } from "./chance.ts"

/** Every factor looked through, the strongest evidence first; each can be asked about on its own. */
export function LookThroughView({
  looked,
  onAsk,
}: {
  readonly looked: LookThrough
  readonly onAsk: (by: FactorId) => void
}) {
  return (
    <>
      <h2 className="said">Looked through {looked.looked_at} factors.</h2>
      <p className="after">
        Compared within trips; where a factor does not vary within them, as fished or, among the ten
        strongest, with other things held alike. p allows for the pairs within a factor, q for all factors
        looked at. What leads here may only go along with what matters.
      </p>
      <div className="wide" role="region" aria-label="Every factor" tabIndex={0}>
        <table>
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
                <td className="words">{size === null ? "too few trips" : size.of}</td>
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
