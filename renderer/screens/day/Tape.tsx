import { useCallback, useDeferredValue, useEffect, useRef, useState, type KeyboardEvent } from "react"
import type { Output } from "../../../shared/api.ts"
import type { Problem } from "../../../shared/problems.ts"
import { problemOf } from "../../../shared/rpc.ts"
import { addressOf } from "../../app/route.ts"
import { useCall } from "../../client/useCall.ts"
import { useClient } from "../../client/useClient.ts"
import { Problems } from "../../parts/ProblemText.tsx"
import { DayTally } from "./DayTally.tsx"
import { Wrong } from "../../parts/Wrong.tsx"
import { toEndOfLine } from "./toEndOfLine.ts"
import { useRowsRead } from "./useRowsRead.ts"

/** How long typing rests before it is saved, ms. */
const rest = 400

/**
 * The day typed as short lines, each read in words beneath it. It is saved whenever typing rests, when it is left, and when the
 * window is closed; lines that cannot be read are kept as typed.
 */
export function Tape({ trip }: { readonly trip: string }) {
  const stored = useCall("day.read", { trip })
  if (stored.value === null) return <Problems of={[stored.problem]} />
  return <TapeField key={trip} trip={trip} stored={stored.value} />
}

function TapeField({ trip, stored }: { readonly trip: string; readonly stored: Output<"day.read"> }) {
  const field = useRef<HTMLTextAreaElement>(null)
  const readings = useRef<HTMLDivElement>(null)
  const cut = useRowsRead(readings)
  const [text, setText] = useState(stored.tape)
  const [caret, setCaret] = useState(0)
  const [typing, setTyping] = useState(false)
  const { saved, save, problem, merged } = useTapeSaving(trip, stored.tape)
  const asked = useDeferredValue(text)
  const askedCaret = useDeferredValue(caret)
  const read = useCall("tape.read", { trip, text: asked, caret: typing ? askedCaret : null })
  const dirty = text !== saved

  // What was changed elsewhere shows at once where nothing is being typed here.
  useEffect(() => {
    if (!dirty && document.activeElement !== field.current) {
      setText(stored.tape)
      save.adopt(stored.tape)
    }
  }, [stored.tape, dirty, save])
  useEffect(() => {
    if (!dirty) return
    const timer = setTimeout(() => save.now(text), rest)
    return () => clearTimeout(timer)
  }, [text, dirty, save])
  const newest = useRef(text)
  newest.current = text
  useEffect(() => {
    const closing = (): void => save.now(newest.current)
    window.addEventListener("beforeunload", closing)
    window.addEventListener("pagehide", closing)
    return () => {
      window.removeEventListener("beforeunload", closing)
      window.removeEventListener("pagehide", closing)
      closing()
    }
  }, [save])
  useEffect(() => field.current?.focus({ preventScroll: true }), [])

  const lines = text.split("\n")
  const reading = read.value?.lines ?? []
  const completions = typing ? (read.value?.completions ?? null) : null
  const first = completions?.choices[0]
  const take = (choice: string): void => {
    const input = field.current
    if (completions === null || input === null) return
    input.setRangeText(choice, completions.from, completions.to, "end")
    setText(input.value)
    setCaret(input.selectionEnd)
    setTyping(false)
  }
  const heard = (event: KeyboardEvent<HTMLTextAreaElement>): void => {
    if (event.key === "Escape" && completions !== null) {
      event.preventDefault()
      setTyping(false)
    } else if (event.key === "Tab" && !event.shiftKey && first !== undefined) {
      event.preventDefault()
      take(first.text)
    } else if (toEndOfLine(event)) event.preventDefault()
  }
  const lineAt = text.slice(0, caret).split("\n").length - 1
  const saidAt = reading[lineAt]?.text === lines[lineAt] ? (reading[lineAt]?.said ?? "") : ""
  const unclear = reading.find((line) => line.unclear !== null)?.unclear ?? null
  const unclearAt = reading.findIndex((line) => line.unclear !== null)
  const mend = (choice: string): void => {
    const input = field.current
    if (unclear === null || input === null) return
    const from = lines.slice(0, unclearAt).reduce((sum, line) => sum + line.length + 1, 0)
    input.focus()
    input.setRangeText(choice, from + unclear.from, from + unclear.to, "end")
    setText(input.value)
  }
  return (
    <section aria-label="Tape" className="tape">
      <div className="tape-page">
        <textarea
          ref={field}
          className="tape-text"
          aria-label="The day, line by line"
          aria-describedby="tape-said"
          spellCheck={false}
          autoComplete="off"
          placeholder="clock, spot, presentation, what came: 620 md tw.mml rd24,22"
          value={text}
          onChange={({ target }) => {
            setText(target.value)
            setCaret(target.selectionEnd)
            setTyping(true)
          }}
          onSelect={({ currentTarget }) => setCaret(currentTarget.selectionEnd)}
          onKeyDown={heard}
          onBlur={() => {
            setTyping(false)
            save.now(newest.current)
          }}
        />
        <div ref={readings} className="tape-readings" aria-hidden="true">
          {lines.map((line, i) => (
            <div key={i} className="tape-line">
              <Marked line={line} unclear={reading[i]?.text === line ? reading[i].unclear : null} />
              <div className={reading[i]?.unclear ? "tape-said wrong" : "tape-said"}>
                {reading[i]?.text !== line ? "" : (reading[i].unclear?.sentence ?? reading[i].said)}
              </div>
            </div>
          ))}
        </div>
      </div>
      {completions === null || completions.choices.length === 0 ? null : (
        <p className="tape-choices small" aria-label="What could stand here">
          {completions.choices.slice(0, 8).map(({ text: choice, said }, i) => (
            <button
              key={choice}
              type="button"
              className="choice-of"
              tabIndex={-1}
              onMouseDown={(event) => {
                event.preventDefault()
                take(choice)
              }}
            >
              <b>{choice}</b> {said} {i === 0 ? <kbd>Tab</kbd> : null}
            </button>
          ))}
        </p>
      )}
      {cut.has(lineAt) && saidAt !== "" ? (
        <p className="soft small">
          Line {lineAt + 1}: {saidAt}
        </p>
      ) : null}
      <p id="tape-said" className="small" aria-live="polite">
        {unclear === null ? (
          ""
        ) : (
          <>
            <span className="hidden">
              Line {unclearAt + 1}: {unclear.sentence}
            </span>
            {unclear.choices.length === 0 ? null : (
              <span className="wrong">
                Line {unclearAt + 1} may be{" "}
                {unclear.choices.slice(0, 8).map((choice) => (
                  <button key={choice} type="button" className="choice-of" onClick={() => mend(choice)}>
                    {choice}
                  </button>
                ))}
              </span>
            )}
          </>
        )}
      </p>
      <DayTally totals={read.value?.totals ?? stored.totals} saving={dirty} />
      <Problems of={[problem]} />
      {merged.map((sentence) => (
        <Wrong key={sentence} sentence={sentence} />
      ))}
      <p className="soft small">
        <a href={addressOf({ at: "tape-help" })}>How a day is typed</a>, on one page. Tab takes the first word
        offered; Escape puts the offer away, and Tab then goes on.
      </p>
    </section>
  )
}

/** A line with what cannot be read marked, laid under the text itself. */
function Marked({
  line,
  unclear,
}: {
  readonly line: string
  readonly unclear: { readonly from: number; readonly to: number } | null
}) {
  if (unclear === null) return <div className="tape-mark">{line}</div>
  return (
    <div className="tape-mark">
      {line.slice(0, unclear.from)}
      <mark>{line.slice(unclear.from, Math.max(unclear.to, unclear.from + 1))}</mark>
      {line.slice(unclear.to)}
    </div>
  )
}

type Saving = {
  /** Saves a text unless it is saved already. */
  readonly now: (text: string) => void
  /** Takes a text that came from the store as what is saved. */
  readonly adopt: (text: string) => void
}

/** Saves one text after the other, each against the one before it, so that what changed elsewhere is seen. */
function useTapeSaving(trip: string, first: string) {
  const client = useClient()
  const was = useRef(first)
  const wanted = useRef(first)
  const running = useRef(false)
  const [saved, setSaved] = useState(first)
  const [problem, setProblem] = useState<Problem | null>(null)
  const [merged, setMerged] = useState<readonly string[]>([])
  const pump = useCallback(async (): Promise<void> => {
    if (running.current) return
    running.current = true
    try {
      while (wanted.current !== was.current) {
        const text = wanted.current
        const done = await client.call("day.save", { trip, was: was.current, text })
        was.current = text
        setSaved(text)
        setMerged(done.merged)
        setProblem(null)
      }
    } catch (error) {
      setProblem(problemOf(error))
      wanted.current = was.current
    } finally {
      running.current = false
    }
  }, [client, trip])
  const [save] = useState((): Saving => ({
    now: (text) => {
      wanted.current = text
      void pump()
    },
    adopt: (text) => {
      was.current = text
      wanted.current = text
      setSaved(text)
    },
  }))
  return { saved, save, problem, merged }
}
