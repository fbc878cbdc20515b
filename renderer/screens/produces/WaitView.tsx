import { useCallback } from "react"
import type { Patience } from "../../../shared/patience.ts"
import type { Steps } from "../../../shared/steps.ts"
import { factorOf, isFactorId } from "../../../shared/factors.ts"
import {
  counted,
  estimateFigure,
  hoursFigure,
  namesIn,
  rangeText,
  ratioFigure,
} from "../../../shared/figures.ts"
import type { Outcome } from "../../../shared/questions.ts"
import type { ReaderUnits } from "../../../shared/readerUnits.ts"
import { funnel } from "../../charts/funnel.ts"
import { useInk } from "../../charts/ink.ts"
import { waiting } from "../../charts/waiting.ts"
import { Table } from "../../parts/Table.tsx"
import { Drawn } from "./Drawn.tsx"
import { Said } from "./Said.tsx"

/** From look to landed, or how long to give a spot. */
export function WaitView({ told, units }: { readonly told: Steps | Patience; readonly units: ReaderUnits }) {
  return (
    <>
      <Said text={told.sentence} leading={1} />
      {told.refused !== null ? null : told.question === "steps" ? (
        <>
          <Funnel told={told} units={units} />
          <StepsTable told={told} units={units} />
        </>
      ) : (
        <Waits told={told} units={units} />
      )}
      {told.cautions.length === 0 ? null : <h3>What could fool you</h3>}
      {told.cautions.map(({ code, text }) => (
        <p key={code} className="caution">
          {text}
        </p>
      ))}
    </>
  )
}

function Waits({ told, units }: { readonly told: Patience; readonly units: ReaderUnits }) {
  const ink = useInk()
  const figureAt = useCallback(
    (width: number) => waiting(told, units, ink, width),
    [told, units, ink.ink, ink.size],
  )
  return (
    <>
      <Drawn figureAt={figureAt} height="17rem" />
      <p>
        Stands on {counted(told.spells, told.unit === "stop" ? "visit" : "stint")} of{" "}
        {counted(told.trips, "trip")}, {told.with_strike} with a first strike; an open dot on fewer than five
        that lasted so long.
      </p>
    </>
  )
}

type Ends = { estimate: number | null; low: number | null; high: number | null }

function Funnel({ told, units }: { readonly told: Steps; readonly units: ReaderUnits }) {
  const ink = useInk()
  const figureAt = useCallback(
    (width: number) => funnel(told, units, ink, width),
    [told, units, ink.ink, ink.size],
  )
  return <Drawn figureAt={figureAt} height="17rem" />
}

function StepsTable({ told, units }: { readonly told: Steps; readonly units: ReaderUnits }) {
  const nameOf = namesIn(told, units)
  const cell = (outcome: Outcome, { estimate, low, high }: Ends): string => {
    const of = (value: number) => estimateFigure(outcome, value, units)
    return estimate === null ? "-" : `${of(estimate)} (${rangeText(low, high, of)})`
  }
  const words = { struck: "follows", strikes: "strikes", hooked: "hooking", landed: "landing" } as const
  return (
    <Table
      caption="Each step, 95% interval: strikes per rod-hour, of these hooked, of these landed; where follows were counted, of follows and strikes together those that struck"
      head={[
        isFactorId(told.by) ? factorOf(told.by).label : told.by,
        "Trips",
        "Rod-hours",
        "Follows / h",
        "Struck",
        "Strikes / h",
        "Hooked",
        "Landed",
        "Loses most at",
      ]}
      rows={told.levels.map((level) => {
        const at = level.loses_at
        return [
          nameOf(level.level),
          String(level.trips),
          hoursFigure(level.rod_hours),
          level.follows === null ? "not counted" : cell("strike_rate", level.follows),
          level.struck === null ? "-" : cell("hook_up_share", level.struck),
          cell("strike_rate", level.strikes),
          cell("hook_up_share", level.hooked),
          cell("landing_share", level.landed),
          at === null
            ? "none clearly"
            : `${words[at]}, ${ratioFigure(level.against_rest[at]?.ratio ?? 0)} times the rest`,
        ]
      })}
      note={`Over ${counted(told.stints, "stint")} in which every step was counted; ${told.left_out} left out.`}
    />
  )
}
