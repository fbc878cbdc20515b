import { useState, type Ref } from "react"
import { useAct } from "../../client/useAct.ts"
import { NewNamed } from "../../parts/NewNamed.tsx"

/** A new spot: its name, and its place in any usual notation if one likes. */
export function NewSpot({
  ref,
  onKept,
}: {
  readonly ref: Ref<HTMLInputElement>
  readonly onKept: (id: string) => void
}) {
  const [place, setPlace] = useState("")
  const saving = useAct("spots.save")
  return (
    <NewNamed
      ref={ref}
      kind="spot"
      label="New spot"
      placeholder="Heron Edge"
      wrong={saving.problem?.message ?? null}
      onKeep={async (named) => {
        const coordinates = place.trim() === "" ? {} : { coordinates: place.trim() }
        const kept = await saving.run({ ...named, ...coordinates })
        if (kept === null) return false
        setPlace("")
        onKept(kept.spot.id)
        return true
      }}
    >
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
    </NewNamed>
  )
}
