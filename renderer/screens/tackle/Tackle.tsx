import { useCallback, useEffect, useMemo, useRef, useState } from "react"
import { counted } from "../../../shared/figures.ts"
import { presets } from "../../../shared/readerUnits.ts"
import type { Piece } from "../../../shared/pieces.ts"
import type { PresentationListed, Tackle as TackleList } from "../../../shared/tackle.ts"
import { useCommand } from "../../app/actions.tsx"
import { useCall } from "../../client/useCall.ts"
import { ProblemText } from "../../parts/ProblemText.tsx"
import { Lures } from "./Lures.tsx"
import { NewPresentation, type LineHandle } from "./NewPresentation.tsx"
import { Parts } from "./Parts.tsx"
import { PresentationDetail } from "./PresentationDetail.tsx"
import { PresentationList } from "./PresentationList.tsx"
import { useRates } from "./rates.ts"

/** The tackle box: presentations with their use and result, and the lures, rigs and retrieves they are made of. */
export default function Tackle() {
  const tackle = useCall("tackle.list", {})
  if (tackle.problem !== null) return <ProblemText problem={tackle.problem} />
  if (tackle.value === null) return <h1 className="hidden">Tackle</h1>
  return <Box tackle={tackle.value} />
}

function Box({ tackle }: { readonly tackle: TackleList }) {
  const { presentations, classes } = tackle
  const rates = useRates()
  const units = useCall("settings.read", {}).value?.units ?? presets.metric
  const [chosen, setChosen] = useState<string | null>(null)
  const line = useRef<LineHandle>(null)
  const inUse = useMemo(() => presentations.filter(({ retired_at }) => retired_at === null), [presentations])
  const shown = presentations.find(({ id }) => id === chosen) ?? inUse[0] ?? presentations[0] ?? null
  const names = useMemo(() => classes.map(({ name }) => name).toSorted(), [classes])
  useCommand("tackle.new", () => line.current?.begin(""))
  const copy = useCallback((from: PresentationListed) => line.current?.begin(beginningOf(from)), [])
  const copyPiece = ({ words, presentations: of }: Piece): void => {
    const first = presentations.find(({ id }) => of.some((one) => one.id === id))
    line.current?.begin(first === undefined ? words.replaceAll(";", ",") : beginningOf(first))
  }
  useCommand("tackle.copy", shown === null ? null : () => copy(shown))
  const retired = presentations.length - inUse.length
  useEffect(() => {
    if (presentations.length === 0) line.current?.begin("")
  }, [presentations.length])
  return (
    <>
      <h1 className="hidden">Tackle</h1>
      <p className="question">
        {presentations.length === 0
          ? "Nothing tied on yet. Say in one line what you fish."
          : `${counted(inUse.length, "presentation")} of ${counted(names.length, "lure class", "lure classes")}${retired === 0 ? "" : `, ${retired} retired`}.`}
      </p>
      <NewPresentation ref={line} onKept={setChosen} />
      {presentations.length === 0 ? (
        <p className="soft text">
          A presentation is a lure, how it is rigged, and how it is worked. Each gets a short code of your
          own, to be typed while you log a day.
        </p>
      ) : (
        <div className="beside tackle-body">
          <PresentationList
            presentations={presentations}
            classes={names}
            rates={rates}
            chosen={shown?.id ?? null}
            onChoose={setChosen}
          />
          {shown === null ? null : (
            <PresentationDetail
              key={shown.id}
              of={shown}
              rate={rates === null ? undefined : (rates.get(shown.name) ?? null)}
              units={units}
              onCopy={() => copy(shown)}
            />
          )}
        </div>
      )}
      {tackle.lures.length === 0 ? null : <Lures tackle={tackle} />}
      {presentations.length === 0 ? null : <Parts tackle={tackle} onCopy={copyPiece} />}
    </>
  )
}

/** A line that begins as a presentation: by its code, else by its parts. */
const beginningOf = ({ code, words }: PresentationListed): string =>
  code === null ? words.replaceAll(";", ",") : `${code}, `
