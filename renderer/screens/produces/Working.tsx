import { useCallback } from "react"
import { capital } from "../../../shared/casing.ts"
import type { Answer } from "../../../shared/answer.ts"
import { factorOf, isFactorId } from "../../../shared/factors.ts"
import { diagnostics } from "../../charts/diagnostics.ts"
import { nothingDrawn } from "../../charts/figure.ts"
import { useInk } from "../../charts/ink.ts"
import { Fold } from "../../parts/Fold.tsx"
import { Table } from "../../parts/Table.tsx"
import { Drawn } from "./Drawn.tsx"

/** The model in full, and code that checks it elsewhere. */
export function Working({ answer }: { readonly answer: Answer }) {
  const { model, working, levels, contrasts } = answer
  const methods = [...new Set([...levels, ...contrasts].map(({ method }) => method))]
  return (
    <Fold title="Show the working" unprinted>
      <p>{methods.join("; ")}.</p>
      {model === null ? null : (
        <p>
          {capital(model.family)} model, {model.link} link, by {model.method}. Terms: {model.terms.join(", ")}
          . Spread between trips (standard deviation of the log): {(model.sd_trip ?? 0).toFixed(2)}
          {model.theta === null ? "" : `; theta ${model.theta.toFixed(2)}`}. Log-likelihood{" "}
          {model.log_likelihood.toFixed(2)}.
        </p>
      )}
      <HowItFits answer={answer} />
      {working === null ? null : (
        <>
          <Table
            caption={`Coefficients, ${working.trips} trips, ${working.df} degrees of freedom`}
            head={["Term", "estimate", "standard error"]}
            rows={working.coefficients.map(({ name, estimate, se }) => [
              nameOfTerm(name),
              estimate.toFixed(3),
              se.toFixed(3),
            ])}
          />
          <h4>To check it in R</h4>
          <pre className="code" tabIndex={0}>
            {working.r_code}
          </pre>
        </>
      )}
    </Fold>
  )
}

/** The model beside what was counted. */
function HowItFits({ answer }: { readonly answer: Answer }) {
  const ink = useInk()
  const figureAt = useCallback(
    (width: number) => diagnostics(answer, ink, width) ?? nothingDrawn,
    [answer, ink.ink, ink.size],
  )
  return answer.working?.diagnostics == null ? null : <Drawn figureAt={figureAt} height="13rem" />
}

const nameOfTerm = (name: string): string => {
  const [first = "", ...rest] = name.split(" ")
  return isFactorId(first) ? [factorOf(first).label, ...rest].join(" ") : name
}
