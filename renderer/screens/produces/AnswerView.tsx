import { useCallback, useMemo } from "react"
import { Disclosure, DisclosurePanel, Button, Heading } from "react-aria-components"
import { leftOutWords, type Answer } from "../../../shared/answer.ts"
import { factorOf, isFactorId } from "../../../shared/factors.ts"
import { counted, levelNames, rangeText, ratioFigure } from "../../../shared/figures.ts"
import { outcomeWords } from "../../../shared/outcomes.ts"
import type { ReaderUnits } from "../../../shared/readerUnits.ts"
import { useInk } from "../../charts/ink.ts"
import { LazyChart } from "../../charts/LazyChart.tsx"
import { rateIntervals } from "../../charts/rateIntervals.ts"
import { Table } from "../../parts/Table.tsx"
import { TakeAway } from "./TakeAway.tsx"

const cautionsOnTop = 2
const chartWidthForSaving = 800

/** An answer to read: its sentence, the chart, the ratios, what could fool one, and what stands behind it. */
export function AnswerView({ answer, units }: { readonly answer: Answer; readonly units: ReaderUnits }) {
  const ink = useInk()
  const figureAt = useCallback(
    (width: number) => rateIntervals(answer, units, ink, width),
    [answer, units, ink.ink, ink.size],
  )
  const { table } = useMemo(() => figureAt(chartWidthForSaving), [figureAt])
  const [lead, ...rest] = splitSentence(answer.sentence)
  if (answer.levels.length === 0)
    return (
      <>
        <h2 className="said">{answer.sentence}</h2>
        <Behind answer={answer} />
      </>
    )
  return (
    <>
      <h2 className="said">{lead}</h2>
      <p className="after">{rest.join(" ")}</p>
      <div className="beside">
        <div>
          <h3>
            {figureAt(chartWidthForSaving).title}{" "}
            <span className="plain">(dashes: if every fish came alone; open dot: under 12 trips)</span>
          </h3>
          <LazyChart figureAt={figureAt} height={`${answer.levels.length * 2 + 2}rem`} />
          <Ratios answer={answer} units={units} />
          <Disclosure className="fold unprinted">
            <Heading level={3}>
              <Button slot="trigger">The numbers as a table</Button>
            </Heading>
            <DisclosurePanel>
              <Table caption={figureAt(chartWidthForSaving).title} {...table} />
            </DisclosurePanel>
          </Disclosure>
        </div>
        <aside>
          <Cautions answer={answer} />
          <Behind answer={answer} />
          <TakeAway answer={answer} table={table} units={units} />
        </aside>
      </div>
    </>
  )
}

/** The first two sentences lead: the word of the scale and what it is said of. */
function splitSentence(text: string): string[] {
  const sentences = text.match(/[^.]+(?:\.\d[^.]*)*\.(?:\s|$)/g) ?? [text]
  return [sentences.slice(0, 2).join("").trim(), ...sentences.slice(2).map((sentence) => sentence.trim())]
}

function Ratios({ answer, units }: { readonly answer: Answer; readonly units: ReaderUnits }) {
  const { by, contrasts, levels } = answer
  const most = levels.toSorted((a, b) => b.rod_hours - a.rod_hours)[0]?.level
  const shown = contrasts.filter(
    ({ a, b }) => contrasts.length < 4 || b === "others" || a === most || b === most,
  )
  if (shown.length === 0) return null
  const nameOf = isFactorId(by)
    ? levelNames(
        by,
        levels.map(({ level }) => level),
        units,
      )
    : (level: string) => level
  const label = isFactorId(by) ? factorOf(by).label : by
  return (
    <Table
      caption={`${label}: one against another, as fished`}
      head={["Compared", "ratio", "95% interval", "p", "q"]}
      rows={shown.map(({ a, b, ratio, low, high, p, q }) => [
        `${nameOf(a)} over ${nameOf(b)}`,
        ratio === null ? "-" : ratioFigure(ratio),
        low === null && high === null ? "none" : rangeText(low, high, ratioFigure),
        chance(p),
        chance(q),
      ])}
      note={contrasts.length > 1 ? `q allows for the ${contrasts.length} pairs looked at; p does not.` : null}
    />
  )
}

const chance = (p: number | null): string =>
  p === null ? "-" : p < 0.001 ? "<0.001" : p.toFixed(p < 0.01 ? 3 : 2)

function Cautions({ answer: { cautions } }: { readonly answer: Answer }) {
  const more = cautions.slice(cautionsOnTop)
  return (
    <>
      <h3>What could fool you</h3>
      {cautions.slice(0, cautionsOnTop).map(({ code, text }) => (
        <p key={code}>{text}</p>
      ))}
      {more.length === 0 ? null : (
        <Disclosure className="fold">
          <Heading level={3}>
            <Button slot="trigger">{counted(more.length, "more caution")}</Button>
          </Heading>
          <DisclosurePanel>
            {more.map(({ code, text }) => (
              <p key={code}>{text}</p>
            ))}
          </DisclosurePanel>
        </Disclosure>
      )}
    </>
  )
}

function Behind({ answer: { data, outcome } }: { readonly answer: Answer }) {
  const { events, trials } = outcomeWords(outcome)
  const left = data.left_out.map(
    ({ reason, stints }) => `${counted(stints, "stint")} ${leftOutWords[reason]}`,
  )
  return (
    <>
      <h3>What stands behind it</h3>
      <p>
        {counted(data.trips, "trip")}, {counted(data.stints, "stint")}, {Math.round(data.rod_hours)}{" "}
        rod-hours, {data.events} {events}
        {trials === null ? "" : ` of ${data.trials ?? 0} ${trials}`}.
        {left.length === 0 ? "" : ` Left out: ${left.join("; ")}.`}
      </p>
    </>
  )
}
