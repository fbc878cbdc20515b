import { Button } from "react-aria-components"
import { capital } from "../../../shared/casing.ts"
import type { Answer } from "../../../shared/answer.ts"
import { isFactorId, type FactorId } from "../../../shared/factors.ts"
import { listed } from "../../../shared/figures.ts"
import { Choice } from "../../parts/Choice.tsx"
import { Fold } from "../../parts/Fold.tsx"
import { bySections, worthSections } from "./question.ts"

/** The bases side by side in words, the one that leads first; nothing where only one was asked for. */
export function SideBySide({
  answer: { standings, ratios_of, headline, beside, held },
}: {
  readonly answer: Answer
}) {
  const told = standings.filter(({ says }) => says !== "nothing").length
  if (standings.length < 2 || (held === null && told < 2)) return null
  const order = standings.toSorted((a, b) => Number(b.says === "leads") - Number(a.says === "leads"))
  return (
    <>
      <h3>Side by side</h3>
      {ratios_of === null ? null : <p className="soft">{capital(ratios_of)}.</p>}
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
  const more = bySections.map(({ title, options }) => ({
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
      <Fold title="Change it, and why it is so" unprinted>
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
      </Fold>
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
