import { useDeferredValue, useImperativeHandle, useRef, useState, type Ref } from "react"
import { Button } from "react-aria-components"
import type { PresentationLine } from "../../../shared/tackle.ts"
import { useAct } from "../../client/useAct.ts"
import { useCall } from "../../client/useCall.ts"
import { LineForm } from "../../parts/LineForm.tsx"
import { Wrong } from "../../parts/Wrong.tsx"
import { LineReading } from "./LineReading.tsx"

/** What the page can do with the line: begin it anew with some words, and the focus in it. */
export type LineHandle = { readonly begin: (words: string) => void }

type Own = { readonly name: string | null; readonly code: string | null; readonly mark: string | null }
const asSuggested: Own = { name: null, code: null, mark: null }

/** A presentation made in one line, read back in words while it is typed, and kept with Enter. */
export function NewPresentation({
  ref,
  onKept,
}: {
  readonly ref: Ref<LineHandle>
  readonly onKept: (id: string) => void
}) {
  const input = useRef<HTMLInputElement>(null)
  const [line, setLine] = useState("")
  const [own, setOwn] = useState(asSuggested)
  const asked = useDeferredValue(line)
  const read = useCall("tackle.read", asked.trim() === "" ? null : { line: asked })
  const keeping = useAct("tackle.keep")
  const reading = line.trim() === "" ? null : read.value
  useImperativeHandle(ref, () => ({
    begin: (words) => {
      setLine(words)
      setOwn(asSuggested)
      input.current?.focus()
    },
  }))
  const keep = async (): Promise<void> => {
    if (line.trim() === "") return
    const said = {
      ...(own.name === null ? {} : { name: own.name }),
      ...(own.code === null ? {} : { code: own.code }),
      ...(own.mark === null ? {} : { mark: own.mark === "" ? null : own.mark }),
    }
    const kept = await keeping.run({ line, ...said })
    if (kept === null) return
    setLine("")
    setOwn(asSuggested)
    onKept(kept.id)
    input.current?.focus()
  }
  const choose = (from: number, to: number, choice: string) => {
    setLine((before) => `${before.slice(0, from)}${choice}${before.slice(to)}`)
    keeping.forget()
    input.current?.focus()
  }
  return (
    <LineForm
      id="new-presentation"
      ref={input}
      label="New presentation, in one line"
      line={line}
      placeholder="soft plastic, 1/4 oz, short shank, hop, dark"
      onLine={(typed) => {
        setLine(typed)
        keeping.forget()
      }}
      onEnter={() => void keep()}
      onEscape={() => setLine("")}
    >
      {reading === null ? null : <LineReading reading={reading} onChoose={choose} />}
      {reading === null || !isClear(reading) ? null : (
        <OwnWords reading={reading} own={own} onChange={setOwn} />
      )}
      <Wrong sentence={keeping.problem?.message ?? null} />
    </LineForm>
  )
}

const isClear = ({ tokens }: PresentationLine): boolean =>
  tokens.length > 0 && tokens.every(({ unclear }) => unclear === null)

/** What it will be called: suggested, and changed by typing over it. */
function OwnWords({
  reading,
  own,
  onChange,
}: {
  readonly reading: PresentationLine
  readonly own: Own
  readonly onChange: (own: Own) => void
}) {
  return (
    <div className="row own-words">
      <label>
        <span className="soft small">Name</span>
        <input
          className="long"
          value={own.name ?? reading.name}
          onChange={({ target }) => onChange({ ...own, name: target.value })}
        />
      </label>
      <label>
        <span className="soft small">Code</span>
        <input
          className="short"
          value={own.code ?? reading.code}
          autoComplete="off"
          spellCheck={false}
          onChange={({ target }) => onChange({ ...own, code: target.value })}
        />
      </label>
      <label>
        <span className="soft small">Mark</span>
        <input
          className="letter"
          value={own.mark ?? reading.mark ?? ""}
          maxLength={1}
          autoComplete="off"
          spellCheck={false}
          onChange={({ target }) => onChange({ ...own, mark: target.value })}
        />
      </label>
      <Button type="submit" className="main">
        Keep it <kbd>Enter</kbd>
      </Button>
      <span className="soft small">
        The code is typed in a day; the mark, one letter, in ten-minute strips.
      </span>
      {reading.same === null ? null : (
        <span className="soft small">You have just this already: {reading.same.name}.</span>
      )}
    </div>
  )
}
