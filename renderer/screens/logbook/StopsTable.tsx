import { Fragment, useState } from "react"
import { Button } from "react-aria-components"
import { figure } from "../../../shared/figures.ts"
import type { ReaderUnits } from "../../../shared/readerUnits.ts"
import type { TripPage } from "../../../shared/trips.ts"
import { classInk } from "../../charts/classInk.ts"
import type { Clock } from "../../charts/clock.ts"
import { useInk } from "../../charts/ink.ts"
import { outcomeCells, type OutcomeCells, type PageStint } from "./outcomeCells.ts"
import { StintDetails } from "./StintDetails.tsx"

type Shown = {
  readonly page: TripPage
  readonly clock: Clock
  readonly units: ReaderUnits
  readonly classes: readonly string[]
}
type PageStop = TripPage["stops"][number]

const columns = [
  ["followed", "followed"],
  ["missed", "missed"],
  ["lost", "lost"],
  ["landed", "landed"],
  ["hungUp", "hung up"],
] as const satisfies readonly (readonly [keyof OutcomeCells, string])[]
const dash = "–"

/** Stop by stop, the stints and what they came to; each unfolds into its strikes and conditions. Numbers as in the strip. */
export function StopsTable({ page, clock, units, classes }: Shown) {
  const [open, setOpen] = useState<ReadonlySet<string>>(new Set())
  const numbers = new Map(page.strip?.stints.map(({ id }, i) => [id, i + 1]))
  const stints = page.stops.flatMap((stop) => stop.stints)
  const cells = new Map(stints.map((stint) => [stint.id, outcomeCells(stint, page.counted)]))
  // Follows are mostly not counted: their column stands where any were.
  const shown = columns.filter(
    ([key]) => key !== "followed" || [...cells.values()].some(({ followed }) => followed !== null),
  )
  const uncounted = [...cells.values()].some((cell) => shown.some(([key]) => cell[key] === null))
  const toggle = (id: string) =>
    setOpen((before) => {
      const after = new Set(before)
      if (!after.delete(id)) after.add(id)
      return after
    })
  return (
    <>
      <div className="row">
        <h2 className="small-heading">Stops and stints</h2>
        <Button
          className="quiet small unprinted"
          onPress={() => setOpen(open.size === 0 ? new Set(stints.map(({ id }) => id)) : new Set())}
        >
          {open.size === 0 ? "Unfold all" : "Fold all"}
        </Button>
      </div>
      <div className="wide" role="region" aria-label="Stops and stints" tabIndex={0}>
        <table className="stops">
          <thead>
            <tr>
              <th scope="col">Time</th>
              <th scope="col" className="words">
                Presentation
              </th>
              {shown.map(([key, head]) => (
                <th key={key} scope="col">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          {page.stops.map((stop) => (
            <tbody key={stop.id}>
              <tr className="stop">
                <th scope="rowgroup" colSpan={2 + shown.length}>
                  <b>{stop.spot ?? "spot not noted"}</b> {sayStop(stop, clock)}
                </th>
              </tr>
              {stop.stints.map((stint) => {
                const cell = cells.get(stint.id)
                const isOpen = open.has(stint.id)
                return (
                  <Fragment key={stint.id}>
                    <tr>
                      <td>
                        <Button className="unfold" aria-expanded={isOpen} onPress={() => toggle(stint.id)}>
                          <StintNumber number={numbers.get(stint.id)} />
                          {timeOf(stint, clock)}
                        </Button>
                      </td>
                      <td className="words">
                        <Presentation stint={stint} page={page} classes={classes} />
                      </td>
                      {shown.map(([key]) => (
                        <td key={key}>{cell?.[key] ?? <Uncounted />}</td>
                      ))}
                    </tr>
                    {isOpen ? (
                      <tr className="unfolded">
                        <td colSpan={2 + shown.length} className="words">
                          <StintDetails stint={stint} clock={clock} units={units} />
                        </td>
                      </tr>
                    ) : null}
                  </Fragment>
                )
              })}
            </tbody>
          ))}
        </table>
      </div>
      {uncounted ? (
        <p className="soft small">
          {dash} not counted: unknown, which is not none. Lost has bitten off in it.
        </p>
      ) : null}
    </>
  )
}

const StintNumber = ({ number }: { readonly number: number | undefined }) =>
  number === undefined ? null : (
    <span className="number">
      <span className="hidden">Stint </span>
      {number}
    </span>
  )

const Uncounted = () => (
  <>
    <span aria-hidden="true">{dash}</span>
    <span className="hidden">not counted</span>
  </>
)

function timeOf({ start_at, end_at, effort_minutes }: PageStint, clock: Clock): string {
  if (start_at !== null && end_at !== null) return clock.range(start_at, end_at)
  if (start_at !== null) return `from ${clock.time(start_at)}`
  return effort_minutes === null ? "no clock" : `${figure(effort_minutes, 3)} min, no clock`
}

function sayStop({ start_at, end_at, platform, why_left }: PageStop, clock: Clock): string {
  return [
    start_at === null
      ? null
      : end_at === null
        ? `from ${clock.time(start_at)}`
        : clock.range(start_at, end_at),
    platform,
    why_left === null ? null : `left: ${why_left}`,
  ]
    .filter((part) => part !== null)
    .join(", ")
}

/** What was tied on, with the mark of its class as in the strip, who fished it where several did, and the stint's notes. */
function Presentation({
  stint: { presentation, lure_class, angler, rods, notes },
  page: { anglers },
  classes,
}: {
  readonly stint: PageStint
  readonly page: TripPage
  readonly classes: readonly string[]
}) {
  const { colour, open } = classInk(lure_class, classes, useInk())
  const more = [
    presentation === null ? null : lure_class,
    anglers.length > 1 ? angler : null,
    rods > 1 ? `${rods} rods` : null,
  ].filter((part) => part !== null)
  return (
    <>
      <span
        className="swatch"
        aria-hidden="true"
        style={{ borderColor: colour, background: open ? "transparent" : colour }}
      />
      {presentation ?? lure_class ?? "not noted"}
      {more.length === 0 ? null : <span className="soft small under">{more.join(", ")}</span>}
      {notes === null ? null : <span className="small under notes">{notes}</span>}
    </>
  )
}
