import { useEffect, useRef, useState } from "react"
import { Button } from "react-aria-components"
import { figure } from "../../../shared/figures.ts"
import { quantityFigure, readerUnit, type ReaderUnits } from "../../../shared/readerUnits.ts"
import { countDown, type PresentationListed } from "../../../shared/tackle.ts"
import { convert, units as unitTable } from "../../../shared/units.ts"
import { useSave } from "../../client/useSave.ts"
import { KeptField } from "../../parts/KeptField.tsx"

/** Depths to count down to, in the reader's unit. */
const depths = { m: [0.5, 1, 1.5, 2, 3], ft: [2, 4, 6, 8, 12] }

/** How long this rig with this lure sinks, as measured, and the seconds to count for a depth. Nothing is predicted. */
export function Sink({ of, units }: { readonly of: PresentationListed; readonly units: ReaderUnits }) {
  const save = useSave("tackle.save")
  const unit = readerUnit("m", units) === "ft" ? "ft" : "m"
  const symbol = unitTable[unit].symbol
  const [half, setHalf] = useState<{ seconds: number | null; depth_m: number | null }>({
    seconds: of.sink?.seconds ?? null,
    depth_m: of.sink?.depth_m ?? null,
  })
  const keep = (change: Partial<typeof half>): Promise<string | null> => {
    const both = { ...half, ...change }
    setHalf(both)
    const { seconds, depth_m } = both
    const whole = seconds !== null && depth_m !== null
    if (!whole && of.sink === null) return Promise.resolve(null)
    return save({
      what: "sink",
      presentation: of.id,
      seconds: whole ? seconds : null,
      depth_m: whole ? depth_m : null,
    })
  }
  return (
    <section className="sink">
      <h3>Sink, as measured</h3>
      <div className="kept-fields">
        <KeptField
          label="Seconds"
          className="short"
          value={half.seconds === null ? "" : figure(half.seconds, 3)}
          onKeep={(typed) => amount(typed, (seconds) => keep({ seconds }))}
        />
        <KeptField
          label={`Depth, ${symbol}`}
          className="short"
          value={half.depth_m === null ? "" : quantityFigure(half.depth_m, "m", units)}
          onKeep={(typed) =>
            amount(typed, (depth) => keep({ depth_m: depth === null ? null : convert(depth, unit, "m") }))
          }
        />
        <Stopwatch onStop={(seconds) => void keep({ seconds: Math.round(seconds * 10) / 10 })} />
      </div>
      {of.sink === null ? (
        <p className="soft small">
          Drop it beside the boat where you know the depth, and count. Nothing is predicted.
        </p>
      ) : (
        <p>
          Count{" "}
          {depths[unit]
            .map(
              (depth) =>
                `${figure(countDown(of.sink, convert(depth, unit, "m")) ?? 0)} for ${depth} ${symbol}`,
            )
            .join(", ")}
          .
        </p>
      )}
    </section>
  )
}

/** Reads a number above nothing, or an empty field as none. */
function amount(
  typed: string,
  keep: (value: number | null) => Promise<string | null>,
): Promise<string | null> {
  if (typed.trim() === "") return keep(null)
  const value = Number(typed.trim())
  return Number.isFinite(value) && value > 0
    ? keep(value)
    : Promise.resolve(`${typed.trim()} is not a number above 0.`)
}

/** Counts the seconds from one press to the next. */
function Stopwatch({ onStop }: { readonly onStop: (seconds: number) => void }) {
  const [since, setSince] = useState<number | null>(null)
  const [shown, setShown] = useState(0)
  const timer = useRef<ReturnType<typeof setInterval> | null>(null)
  useEffect(() => {
    if (since === null) return
    timer.current = setInterval(() => setShown((performance.now() - since) / 1000), 100)
    return () => {
      if (timer.current !== null) clearInterval(timer.current)
    }
  }, [since])
  return (
    <Button
      onPress={() => {
        if (since === null) {
          setShown(0)
          setSince(performance.now())
        } else {
          onStop((performance.now() - since) / 1000)
          setSince(null)
        }
      }}
    >
      {since === null ? "Time it" : `On bottom: ${shown.toFixed(1)} s`}
    </Button>
  )
}
