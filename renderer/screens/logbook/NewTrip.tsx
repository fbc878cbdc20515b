import { useDeferredValue, useImperativeHandle, useRef, useState, type Ref } from "react"
import { go } from "../../app/route.ts"
import { useAct } from "../../client/useAct.ts"
import { useCall } from "../../client/useCall.ts"
import { CommandKey } from "../../parts/CommandKey.tsx"
import { withoutFlags } from "../../parts/withoutFlags.ts"

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
    <form
      className="new-line new-trip"
      onSubmit={(event) => {
        event.preventDefault()
        void open()
      }}
    >
      <label htmlFor="new-trip" className="small-heading">
        New trip <CommandKey id="trip.new" />, <CommandKey id="trip.today" /> today,{" "}
        <CommandKey id="trip.yesterday" /> yesterday
      </label>
      <input
        id="new-trip"
        ref={field}
        className="typed-line"
        value={line}
        autoComplete="off"
        spellCheck={false}
        placeholder="today 620 md nel rd"
        aria-describedby="new-trip-reading"
        onChange={({ target }) => {
          setLine(target.value)
          opening.forget()
        }}
        onKeyDown={(event) => {
          if (event.key === "Escape") {
            setLine("")
            field.current?.blur()
          }
        }}
      />
      <div id="new-trip-reading" aria-live="polite">
        {line.trim() === "" ? null : <p className="reading">{said}</p>}
        {line.trim() === "" || unclear === null ? null : (
          <p className="wrong">
            {unclear.sentence}
            {unclear.choices.length === 0 ? "" : ` It may be: ${unclear.choices.slice(0, 6).join(", ")}.`}
          </p>
        )}
        {opening.problem === null ? null : (
          <p className="wrong" role="alert">
            {withoutFlags(opening.problem.message)}
          </p>
        )}
      </div>
    </form>
  )
}
