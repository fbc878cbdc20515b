import { useMemo } from "react"
import { Collection, GridList, GridListHeader, GridListItem, GridListSection } from "react-aria-components"
import type { AnswerLevel } from "../../../shared/answer.ts"
import type { PresentationListed } from "../../../shared/tackle.ts"
import { classInk } from "../../charts/classInk.ts"
import { useInk } from "../../charts/ink.ts"
import { IntervalMark } from "../../parts/IntervalMark.tsx"
import { axisEnd, rateText, standsOnLittle } from "./rates.ts"

const retiredTitle = "Retired"

/** Presentations by lure class: code, name, use, and what they came to. Arrows move, and what is arrived at is shown beside. */
export function PresentationList({
  presentations,
  classes,
  rates,
  chosen,
  onChoose,
}: {
  readonly presentations: readonly PresentationListed[]
  readonly classes: readonly string[]
  readonly rates: ReadonlyMap<string, AnswerLevel> | null
  readonly chosen: string | null
  readonly onChoose: (id: string) => void
}) {
  const ink = useInk()
  const to = rates === null ? 1 : axisEnd(rates)
  const groups = useMemo(() => groupsOf(presentations), [presentations])
  return (
    <div className="own-rows">
      <div className="own-row pres-row own-head" aria-hidden="true">
        <span>code</span>
        <span className="what">presentation</span>
        <span className="uses">stints</span>
        <span className="rate-words">landed per rod-hour</span>
        <span className="rate-mark" />
      </div>
      <GridList
        aria-label="Presentations"
        selectionMode="single"
        selectionBehavior="replace"
        disallowEmptySelection
        selectedKeys={chosen === null ? [] : [chosen]}
        onSelectionChange={(keys) => {
          const [key] = keys === "all" ? [] : [...keys]
          if (key !== undefined) onChoose(String(key))
        }}
        items={groups}
        dependencies={[rates, classes]}
      >
        {({ id, title, items }) => {
          const { colour, open } = classInk(title, classes, ink)
          return (
            <GridListSection id={id} aria-label={title}>
              <GridListHeader className="pres-class">
                {title === retiredTitle ? null : (
                  <span
                    className="swatch"
                    aria-hidden="true"
                    style={{ borderColor: colour, background: open ? "transparent" : colour }}
                  />
                )}
                {title}
              </GridListHeader>
              <Collection items={items} dependencies={[rates]}>
                {(one) => (
                  <GridListItem
                    id={one.id}
                    textValue={`${one.code ?? ""} ${one.name}`}
                    className="own-row pres-row"
                  >
                    <span className="own-code">{one.code ?? "–"}</span>
                    <span className="what">
                      {one.name}
                      {one.mark === null ? null : <span className="soft small"> mark {one.mark}</span>}
                    </span>
                    <span className="uses">{one.stints}</span>
                    <Rate level={rates === null ? undefined : (rates.get(one.name) ?? null)} to={to} />
                  </GridListItem>
                )}
              </Collection>
            </GridListSection>
          )
        }}
      </GridList>
    </div>
  )
}

/** `level`: undefined while it is being worked out, null where nothing was fished. */
function Rate({ level, to }: { readonly level: AnswerLevel | null | undefined; readonly to: number }) {
  if (level === null || level === undefined || level.raw.estimate === null)
    return (
      <>
        <span className="rate-words soft">{level === undefined ? "being worked out" : "not fished yet"}</span>
        <span className="rate-mark" />
      </>
    )
  const { estimate, low, high } = level.raw
  return (
    <>
      <span className="rate-words">{rateText(level)}</span>
      <span className="rate-mark">
        <IntervalMark estimate={estimate} low={low ?? 0} high={high} to={to} open={standsOnLittle(level)} />
      </span>
    </>
  )
}

type Group = { readonly id: string; readonly title: string; readonly items: readonly PresentationListed[] }

function groupsOf(presentations: readonly PresentationListed[]): Group[] {
  const titleOf = ({ retired_at, parts }: PresentationListed) =>
    retired_at !== null ? retiredTitle : (parts.lure_class ?? "Lure class not noted")
  const groups = [...Map.groupBy(presentations, titleOf)].map(([title, items]) => ({
    id: `class ${title}`,
    title,
    items,
  }))
  const [retired, inUse] = [
    groups.filter(({ title }) => title === retiredTitle),
    groups.filter(({ title }) => title !== retiredTitle),
  ]
  return [...inUse, ...retired]
}
