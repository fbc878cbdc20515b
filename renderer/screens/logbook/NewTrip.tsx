import { useDeferredValue, useImperativeHandle, useRef, useState, type Ref } from "react"
import { go } from "../../app/route.ts"
import { useAct } from "../../client/useAct.ts"
import { useCall } from "../../client/useCall.ts"
import { CommandKey } from "../../parts/CommandKey.tsx"
import { LineForm } from "../../parts/LineForm.tsx"
import { Wrong } from "../../parts/Wrong.tsx"

export type NewTripHandle = { readonly begin: () => void }

/** A new trip in one line, read back while it is typed: day, start, spot, anglers, target. Enter opens its sheet. */
export function NewTrip({ ref }: { readonly ref: Ref<NewTripHandle> }) {
  const field = useRef<HTMLInputElement>(null)
  const [line, setLine] = useState("")
  const asked = useDeferredValue(line)
  const read = useCall("trips.read_line", asked.trim() === "" ? null : { line: asked })
  const opening = useAct("trips.open")
  useImperativeHandle(ref, () => ({ begin: () => field.current?.focus() }))
  const open = async (): Promise<void> => {
    if (line.trim() === "") return
    const opened = await opening.run({ line })
    if (opened === null) return
    setLine("")
    go({ at: "trip", trip: opened.trip, view: "sheet" })
  }
  const { said, unclear } = read.value ?? { said: "", unclear: null }
  return (
    <LineForm
      id="new-trip"
      ref={field}
      className="new-line new-trip"
      label={
        <>
          New trip <CommandKey id="trip.new" />, <CommandKey id="trip.today" /> today,{" "}
          <CommandKey id="trip.yesterday" /> yesterday
        </>
      }
      line={line}
      placeholder="day, start, spot, anglers, target: friday 620 md nel rd"
      onLine={(typed) => {
        setLine(typed)
        opening.forget()
      }}
      onEnter={() => void open()}
      onEscape={() => {
        setLine("")
        field.current?.blur()
      }}
    >
      {line.trim() === "" ? null : <p className="reading">{said}</p>}
      {line.trim() === "" || unclear === null ? null : (
        <p className="wrong">
          {unclear.sentence}
          {unclear.choices.length === 0 ? "" : ` It may be: ${unclear.choices.slice(0, 6).join(", ")}.`}
        </p>
      )}
      <Wrong sentence={opening.problem?.message ?? null} />
    </LineForm>
  )
}
