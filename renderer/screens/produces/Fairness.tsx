import { Button, Disclosure, DisclosurePanel, Heading } from "react-aria-components"
import type { Answer } from "../../../shared/answer.ts"
import { factorOf, isFactorId, type FactorId } from "../../../shared/factors.ts"
import { hoursFigure, listed, ratioFigure } from "../../../shared/figures.ts"
import { capital } from "../../charts/rateIntervals.ts"
import { Choice } from "../../parts/Choice.tsx"
import { Table } from "../../parts/Table.tsx"
import { bySections } from "./question.ts"

/** The bases side by side in words, the one that leads first; nothing where only one was asked for. */
export function SideBySide({ answer: { standings, headline, beside, held } }: { readonly answer: Answer }) {
  const told = standings.filter(({ says }) => says !== "nothing").length
  if (standings.length < 2 || (held === null && told < 2)) return null
  const order = standings.toSorted((a, b) => Number(b.says === "leads") - Number(a.says === "leads"))
  return (
    <>
      <h3>Side by side</h3>
      <dl className="standings">
        {order.map(({ basis, says, text }) => {
          const [name = "", ...rest] = text.split(/:(.*)/s)
          return (
            <div key={basis}>
              <dt className={says === "leads" ? "leads" : undefined}>{name}</dt>
              <dd>
                {rest.join("").trim()}
                {says === "leads" ? ` Leads. ${headline.why}` : ""}
              </dd>
            </div>
          )
        })}
      </dl>
      {beside === null ? null : <p>{beside}</p>}
    </>
  )
}

/** What was held alike, what was not and why; the user may change it. */
export function HeldAlike({
  answer: { held },
  onGiven,
}: {
  readonly answer: Answer
  /** The factors to hold alike from now on; null for the usual ones. */
  readonly onGiven: (given: readonly FactorId[] | null) => void
}) {
  if (held === null) return null
  const used = held.used.map(({ factor }) => factor).filter(isFactorId)
  const more = bySections().map(({ title, options }) => ({
    title,
    options: options.filter(({ id }) => isFactorId(id) && !used.includes(id)),
  }))
  return (
    <>
      <h3>Held alike</h3>
      <p>
        {held.cannot ??
          (used.length === 0
            ? "Nothing but the trips' own good and bad days."
            : `${capital(
                listed(
                  held.used.map(({ name }) => name),
                  held.used.length,
                ),
              )}, over ${held.stints} of ${held.of_stints} stints.`)}
      </p>
      <Disclosure className="fold unprinted">
        <Heading level={3}>
          <Button slot="trigger">Change it, and why it is so</Button>
        </Heading>
        <DisclosurePanel>
          <ul className="plain-list">
            {held.used.map(({ factor, name, how }) => (
              <li key={factor}>
                {name}: {how}{" "}
                <Button className="quiet" onPress={() => onGiven(used.filter((one) => one !== factor))}>
                  Leave out {name}
                </Button>
              </li>
            ))}
            {held.left_out.map(({ factor, name, why }) => (
              <li key={factor} className="soft">
                Not {name}: {why}.
              </li>
            ))}
          </ul>
          <p className="row">
            <Choice
              label="Hold alike as well"
              sections={[{ title: "", options: [{ id: "", label: "hold another alike" }] }, ...more]}
              value=""
              onChange={(id) => {
                if (isFactorId(id)) onGiven([...used, id])
              }}
            />
            <Button onPress={() => onGiven(null)}>As usual</Button>
            <Button onPress={() => onGiven([])}>Nothing</Button>
          </p>
          {held.path === null ? null : <p className="soft">{held.path}</p>}
        </DisclosurePanel>
      </Disclosure>
    </>
  )
}

/** What would settle it. */
export function Settling({ answer: { needed } }: { readonly answer: Answer }) {
  if (needed === null) return null
  const enough = needed.rod_hours === 0
  return (
    <>
      <h3>What would settle it</h3>
      <p>
        {enough
          ? `Enough was fished to tell a difference of ${ratioFigure(needed.ratio)} times.`
          : `About ${hoursFigure(needed.rod_hours)} more rod-hours of the two (${needed.trips} trips) would tell a difference of ${ratioFigure(needed.ratio)} times from none in four of five cases, fished as until now.`}
      </p>
    </>
  )
}

/** The model in full, and code that checks it elsewhere. */
export function Working({ answer }: { readonly answer: Answer }) {
  const { model, working, levels, contrasts } = answer
  const methods = [...new Set([...levels, ...contrasts].map(({ method }) => method))]
  return (
    <Disclosure className="fold unprinted">
      <Heading level={3}>
        <Button slot="trigger">Show the working</Button>
      </Heading>
      <DisclosurePanel>
        <p>{methods.join("; ")}.</p>
        {model === null ? null : (
          <p>
            {capital(model.family)} model, {model.link} link, by {model.method}. Terms:{" "}
            {model.terms.join(", ")}. Spread between trips (standard deviation of the log):{" "}
            {(model.sd_trip ?? 0).toFixed(2)}
            {model.theta === null ? "" : `; theta ${model.theta.toFixed(2)}`}. Log-likelihood{" "}
            {model.log_likelihood.toFixed(2)}.
          </p>
        )}
        {working === null ? null : (
          <>
            <Table
              caption={`Coefficients, ${working.trips} trips, ${working.df} degrees of freedom`}
              head={["", "estimate", "standard error"]}
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
      </DisclosurePanel>
    </Disclosure>
  )
}

const nameOfTerm = (name: string): string => {
  const [first = "", ...rest] = name.split(" ")
  return isFactorId(first) ? [factorOf(first).label, ...rest].join(" ") : name
}
