import { Button } from "react-aria-components"
import type { AnswerLevel } from "../../../shared/answer.ts"
import { counted } from "../../../shared/figures.ts"
import type { ReaderUnits } from "../../../shared/readerUnits.ts"
import type { PresentationListed } from "../../../shared/tackle.ts"
import { useCommand } from "../../app/actions.tsx"
import { dayLong } from "../../charts/clock.ts"
import { useSave } from "../../client/useSave.ts"
import { CommandKey } from "../../parts/CommandKey.tsx"
import { KeptField } from "../../parts/KeptField.tsx"
import { RecordHistory } from "../../parts/RecordHistory.tsx"
import { sayRate } from "./rates.ts"
import { Sink } from "./Sink.tsx"

/** One presentation: what it is in words, what it is called, what it came to, how it sinks, and what can be done with it. */
export function PresentationDetail({
  of,
  rate,
  units,
  onCopy,
}: {
  readonly of: PresentationListed
  /** Undefined while it is being worked out, null where nothing tells of it. */
  readonly rate: AnswerLevel | null | undefined
  readonly units: ReaderUnits
  readonly onCopy: () => void
}) {
  const save = useSave("tackle.save")
  const retire = () => void save({ what: "presentation", id: of.id, retired: of.retired_at === null })
  useCommand("tackle.retire", retire)
  return (
    <aside className="detail" aria-label={of.name}>
      <h2>{of.name}</h2>
      <p>{of.words === "" ? "Made of nothing that was noted." : `${of.words}.`}</p>
      <p className={rate === null || rate === undefined ? "soft" : ""}>
        {rate === undefined
          ? "Its result is being worked out."
          : rate === null
            ? "No stint of a closed, complete trip tells of it yet."
            : sayRate(rate)}
      </p>
      {of.last === null ? null : (
        <p className="soft">
          {counted(of.stints, "stint")} on {counted(of.trips, "trip")}, last on {dayLong(of.last)}.
        </p>
      )}
      <div className="kept-fields">
        <KeptField
          label="Name"
          value={of.name}
          onKeep={(name) =>
            name.trim() === ""
              ? Promise.resolve("A presentation wants a name.")
              : save({ what: "presentation", id: of.id, name: name.trim() })
          }
        />
        <KeptField
          label="Code"
          className="short"
          value={of.code ?? ""}
          onKeep={(code) => save({ what: "presentation", id: of.id, code })}
        />
        <KeptField
          label="Mark"
          className="letter"
          value={of.mark ?? ""}
          onKeep={(mark) =>
            save({ what: "presentation", id: of.id, mark: mark.trim() === "" ? null : mark.trim() })
          }
        />
      </div>
      <Sink of={of} units={units} />
      <p className="row">
        <Button onPress={onCopy}>
          Copy and change <CommandKey id="tackle.copy" />
        </Button>
        <Button onPress={retire}>
          {of.retired_at === null ? "Retire" : "Bring back"} <CommandKey id="tackle.retire" />
        </Button>
      </p>
      {of.retired_at === null ? null : (
        <p className="soft small">Retired: no longer offered while you log. Its history stays.</p>
      )}
      <RecordHistory entity="presentation" id={of.id} />
    </aside>
  )
}
