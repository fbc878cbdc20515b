import { useCallback } from "react"
import { Button, Disclosure, DisclosurePanel, Heading } from "react-aria-components"
import type { Answer } from "../../../shared/answer.ts"
import { factorOf, isFactorId, type FactorId } from "../../../shared/factors.ts"
import { counted, hoursFigure, levelNames, namesIn, listed } from "../../../shared/figures.ts"
import { perHour } from "../../../shared/outcomes.ts"
import type { ReaderUnits } from "../../../shared/readerUnits.ts"
import { diagnostics } from "../../charts/diagnostics.ts"
import { nothingDrawn } from "../../charts/figure.ts"
import { useInk } from "../../charts/ink.ts"
import { capital } from "../../charts/rateIntervals.ts"
import { Choice } from "../../parts/Choice.tsx"
import { Table } from "../../parts/Table.tsx"
import { Drawn } from "./Drawn.tsx"
import { bySections, worthSections } from "./question.ts"

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

/** What would settle it, for a difference of the reader's own choice. */
export function Settling({
  answer: { settle },
  worth,
  onWorth,
}: {
  readonly answer: Answer
  /** How many times as much is worth having, as the question keeps it. */
  readonly worth: string
  readonly onWorth: (worth: string) => void
}) {
  if (settle === null) return null
  return (
    <>
      <h3>What would settle it</h3>
      <p>{settle.sentence}</p>
      <p className="unprinted">
        Worth having:{" "}
        <Choice label="Difference worth having" sections={worthSections} value={worth} onChange={onWorth} />
      </p>
    </>
  )
}

const rowsOnTop = 6

/** How much of each of the two was fished at each level of what is held alike: where the two do not meet stands first. */
export function Overlap({ answer, units }: { readonly answer: Answer; readonly units: ReaderUnits }) {
  const { overlap } = answer
  if (overlap === null) return null
  const nameOf = namesIn(answer, units)
  const amount = perHour(answer.outcome) ? hoursFigure : String
  const rows = overlap.rows.map(({ factor, name, level, a, b }) => [
    `${name}: ${level === null ? "not known" : isFactorId(factor) ? levelNames(factor, [level], units)(level) : level}`,
    amount(a),
    amount(b),
  ])
  const head = ["Held alike", nameOf(overlap.a), nameOf(overlap.b)]
  const caption = `Where the two were fished, in ${perHour(answer.outcome) ? "rod-hours" : "stints"}, biggest mismatch first`
  return (
    <>
      <Table caption={caption} head={head} rows={rows.slice(0, rowsOnTop)} />
      {rows.length <= rowsOnTop ? null : (
        <Disclosure className="fold unprinted">
          <Heading level={4}>
            <Button slot="trigger">{counted(rows.length - rowsOnTop, "more row")}</Button>
          </Heading>
          <DisclosurePanel>
            <Table caption={`${caption}: the others`} head={head} rows={rows.slice(rowsOnTop)} />
          </DisclosurePanel>
        </Disclosure>
      )}
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
      </DisclosurePanel>
    </Disclosure>
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
