import { useState, type Ref } from "react"
import { Button } from "react-aria-components"
import { useAct } from "../../client/useAct.ts"
import { useCall } from "../../client/useCall.ts"
import { withoutFlags } from "../../parts/withoutFlags.ts"

/** A new spot: its name, and its place in any usual notation if one likes. */
export function NewSpot({
  ref,
  onKept,
}: {
  readonly ref: Ref<HTMLInputElement>
  readonly onKept: (id: string) => void
}) {
  const [name, setName] = useState("")
  const [place, setPlace] = useState("")
  const saving = useAct("spots.save")
  const verdict = useCall(
    "codes.check",
    name.trim() === "" ? null : { kind: "spot", name: name.trim() },
  ).value
  const keep = async (): Promise<void> => {
    const named = name.trim()
    if (named === "") return
    const code = verdict?.suggested.code
    const kept = await saving.run({
      name: named,
      ...(code === undefined ? {} : { code }),
      ...(place.trim() === "" ? {} : { coordinates: place.trim() }),
    })
    if (kept === null) return
    setName("")
    setPlace("")
    onKept(kept.spot.id)
  }
  return (
    <form
      className="new-line"
      onSubmit={(event) => {
        event.preventDefault()
        void keep()
      }}
    >
      <div className="row own-words">
        <label>
          <span className="soft small">New spot</span>
          <input
            ref={ref}
            className="long"
            value={name}
            autoComplete="off"
            placeholder="Heron Edge"
            onChange={({ target }) => setName(target.value)}
          />
        </label>
        <label>
          <span className="soft small">Place, if you like</span>
          <input
            className="long"
            value={place}
            autoComplete="off"
            spellCheck={false}
            placeholder="31 23.8 N 81 21.1 W"
            onChange={({ target }) => setPlace(target.value)}
          />
        </label>
        {name.trim() === "" ? null : (
          <Button type="submit" className="main">
            Keep it{verdict === null ? "" : ` as ${verdict.suggested.code}`} <kbd>Enter</kbd>
          </Button>
        )}
      </div>
      {saving.problem === null ? null : (
        <p className="wrong" role="alert">
          {withoutFlags(saving.problem.message)}
        </p>
      )}
    </form>
  )
}
