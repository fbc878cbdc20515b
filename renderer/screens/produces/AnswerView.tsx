import { memo, useCallback, useMemo } from "react"
import { leftOutWords, type Answer } from "../../../shared/answer.ts"
import { factorOf, isFactorId } from "../../../shared/factors.ts"
import { counted, namesIn, rangeText, ratioFigure } from "../../../shared/figures.ts"
import { outcomeWords } from "../../../shared/outcomes.ts"
import type { ReaderUnits } from "../../../shared/readerUnits.ts"
import { addressOf } from "../../app/route.ts"
import { dayLong } from "../../charts/clock.ts"
import { curveBand } from "../../charts/curveBand.ts"
import { nothingDrawn } from "../../charts/figure.ts"
import { heatMap } from "../../charts/heatMap.ts"
import { useInk } from "../../charts/ink.ts"
import { LazyChart } from "../../charts/LazyChart.tsx"
import { rateIntervals } from "../../charts/rateIntervals.ts"
import { Fold } from "../../parts/Fold.tsx"
import { Table } from "../../parts/Table.tsx"
import { chance } from "./chance.ts"
import { AsTable, Drawn } from "./Drawn.tsx"
import { HeldAlike, Settling, SideBySide } from "./Fairness.tsx"
import { Overlap } from "./Overlap.tsx"
import { Said } from "./Said.tsx"
import { givenWord, type Edit } from "./question.ts"
import { TakeAway } from "./TakeAway.tsx"
import { Working } from "./Working.tsx"

const cautionsOnTop = 2
const chartWidthForSaving = 800

/** An answer to read: its sentence, the chart, the ratios, what could fool one, and what stands behind it. */
export const AnswerView = memo(function AnswerView({
  answer,
  units,
  worth,
  onEdit,
}: {
  readonly answer: Answer
  readonly units: ReaderUnits
  readonly worth: string
  readonly onEdit: Edit
}) {
  const ink = useInk()
  const figureAt = useCallback(
    (width: number) => rateIntervals(answer, units, ink, width),
    [answer, units, ink.ink, ink.size],
  )
  const { title, table } = useMemo(() => figureAt(chartWidthForSaving), [figureAt])
  if (answer.levels.length === 0)
    return (
      <>
        <Said text={answer.sentence} />
        <Behind answer={answer} />
      </>
    )
  return (
    <>
      {/* The word of the scale and what it is said of; whether it depends on something, by itself. */}
      <Said text={answer.sentence} leading={answer.depends === null ? 2 : 1} />
      <div className="beside">
        <div>
          <h3>
            {title}{" "}
            <span className="plain">
              (as fished; dashes: if every fish came alone; open dot: under 12 trips)
            </span>
          </h3>
          <LazyChart figureAt={figureAt} height={`${answer.levels.length * 2 + 2}rem`} />
          <AsTable title={title} table={table} />
          <MoreFigures answer={answer} units={units} />
          <div className="ratios">
            <Ratios answer={answer} units={units} />
          </div>
          <Overlap answer={answer} units={units} />
          <Working answer={answer} />
        </div>
        <aside>
          <SideBySide answer={answer} />
          <Cautions answer={answer} />
          <HeldAlike answer={answer} onGiven={(given) => onEdit(() => ({ given: givenWord(given) }))} />
          <Settling answer={answer} worth={worth} onWorth={(wanted) => onEdit(() => ({ worth: wanted }))} />
          <Behind answer={answer} />
          <TakeAway answer={answer} table={table} units={units} />
        </aside>
      </div>
    </>
  )
})

/** A curve along a number, and a heat map where it was asked what it depends on. */
function MoreFigures({ answer, units }: { readonly answer: Answer; readonly units: ReaderUnits }) {
  const ink = useInk()
  const curveAt = useCallback(
    (width: number) => curveBand(answer, units, ink, width) ?? nothingDrawn,
    [answer, units, ink.ink, ink.size],
  )
  const heatAt = useCallback(
    (width: number) => heatMap(answer, units, ink, width) ?? nothingDrawn,
    [answer, units, ink.ink, ink.size],
  )
  return (
    <>
      {answer.curve === null ? null : <Drawn figureAt={curveAt} height="17.5rem" />}
      {answer.depends === null || answer.depends.cells.length === 0 ? null : (
        <Drawn figureAt={heatAt} height={`${answer.levels.length * 2.5 + 2}rem`} />
      )}
    </>
  )
}

function Ratios({ answer, units }: { readonly answer: Answer; readonly units: ReaderUnits }) {
  const { by, levels, headline } = answer
  const contrasts = answer.contrasts.filter(({ basis }) => basis === headline.basis)
  const most = levels.toSorted((a, b) => b.rod_hours - a.rod_hours)[0]?.level
  const shown = contrasts.filter(
    ({ a, b }) => contrasts.length < 4 || b === "others" || a === most || b === most,
  )
  if (shown.length === 0) return null
  const nameOf = namesIn(answer, units)
  const label = isFactorId(by) ? factorOf(by).label : by
  return (
    <Table
      caption={`${label}: one against another, ${captions[headline.basis]}`}
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

const captions = {
  raw: "as fished",
  adjusted: "other things held alike",
  same_trip: "in the same trips",
  same_stop: "at the same stops",
} as const

function Cautions({ answer: { cautions } }: { readonly answer: Answer }) {
  const more = cautions.slice(cautionsOnTop)
  if (cautions.length === 0) return null
  const shown = (some: Answer["cautions"]) =>
    some.map((caution) => <OneCaution key={caution.code} {...caution} />)
  return (
    <>
      <h3>What could fool you</h3>
      {shown(cautions.slice(0, cautionsOnTop))}
      {more.length === 0 ? null : <Fold title={counted(more.length, "more caution")}>{shown(more)}</Fold>}
    </>
  )
}

/** A caution, what it says first in bold; one that names a trip leads to it. */
function OneCaution({ text, about: trip }: Answer["cautions"][number]) {
  const named =
    trip === undefined ? text : text.replace(trip.trip, isDate(trip.trip) ? dayLong(trip.trip) : trip.trip)
  const [lead = "", ...rest] = named.split(/(?<=:) /)
  return (
    <p className="caution">
      {rest.length === 0 || lead.length > longestLead ? named : <b>{lead}</b>}
      {rest.length === 0 || lead.length > longestLead ? null : ` ${rest.join(" ")}`}
      {trip === undefined ? null : (
        <>
          {" "}
          <a className="unprinted" href={addressOf({ at: "trip", trip: trip.trip_id })}>
            Open the trip
          </a>
        </>
      )}
    </p>
  )
}

const longestLead = 80
const isDate = (text: string): boolean => /^\d{4}-\d\d-\d\d$/.test(text)

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
