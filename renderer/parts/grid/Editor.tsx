import { useId, useLayoutEffect, useRef, useState, type KeyboardEvent } from "react"
import type { GridChoice, GridColumn } from "./types.ts"

/** How an edit ends: kept, with the way the cursor goes on, or left as it was. */
export type Leaving = "next" | "back" | "down" | "up" | "stay" | "all"

const mostChoices = 7

/** The field of a cell that is being typed in, with what it may hold. Leaving it keeps what was typed; Escape does not. */
export function Editor({
  column,
  label,
  text,
  replaces,
  wrong,
  onKeep,
  onLeave,
}: {
  readonly column: GridColumn
  readonly label: string
  /** What the field begins with. */
  readonly text: string
  /** Whether typing began it, so that what stood there is gone. */
  readonly replaces: boolean
  readonly wrong: string | null
  readonly onKeep: (text: string, leaving: Leaving) => void
  readonly onLeave: () => void
}) {
  const id = useId()
  const field = useRef<HTMLInputElement>(null)
  const done = useRef(false)
  const [typed, setTyped] = useState(text)
  const [at, setAt] = useState(-1)
  const choices = choicesFor(column, typed)
  useLayoutEffect(() => {
    const input = field.current
    if (input === null) return
    input.focus()
    if (!replaces) input.select()
    else input.setSelectionRange(input.value.length, input.value.length)
  }, [replaces])
  const keep = (leaving: Leaving, as = typed): void => {
    if (done.current) return
    done.current = true
    onKeep(chosenText(choices, at, as), leaving)
  }
  const heard = (event: KeyboardEvent<HTMLInputElement>): void => {
    if (!((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "k")) event.stopPropagation()
    const leaving = leavingBy(event)
    if (leaving !== null) {
      event.preventDefault()
      keep(leaving)
    } else if (event.key === "Escape") {
      event.preventDefault()
      done.current = true
      onLeave()
    } else if (choices.length > 0 && (event.key === "ArrowDown" || event.key === "ArrowUp")) {
      event.preventDefault()
      const step = event.key === "ArrowDown" ? 1 : -1
      setAt((before) => stepped(before + step, choices.length))
    } else if (replaces && choices.length === 0 && leavingArrow(event)) {
      event.preventDefault()
      keep(event.key === "ArrowDown" ? "down" : "up")
    }
  }
  const described = choices.length > 0
  return (
    <>
      <input
        ref={field}
        className="grid-field"
        aria-label={label}
        role="combobox"
        aria-expanded={described}
        aria-controls={described ? `${id}-choices` : undefined}
        aria-activedescendant={at >= 0 ? `${id}-${at}` : undefined}
        aria-invalid={wrong === null ? undefined : true}
        aria-autocomplete="list"
        autoComplete="off"
        spellCheck={column.id === "notes"}
        value={typed}
        onChange={({ target }) => {
          setTyped(target.value)
          setAt(-1)
        }}
        onKeyDown={heard}
        onBlur={() => keep("stay")}
      />
      {described ? (
        <ul id={`${id}-choices`} role="listbox" aria-label={`What ${label} may be`} className="grid-choices">
          {choices.map((choice, i) => (
            <li
              key={choice.text}
              id={`${id}-${i}`}
              role="option"
              aria-selected={i === at}
              onMouseDown={(event) => {
                event.preventDefault()
                done.current = true
                onKeep(choice.text, "stay")
              }}
            >
              <b>{choice.text}</b> {choice.said}
            </li>
          ))}
        </ul>
      ) : null}
    </>
  )
}

/** What is offered: nothing for what stands there already, nor for an empty field. */
function choicesFor(column: GridColumn, typed: string): readonly GridChoice[] {
  if (column.choices === undefined || typed.trim() === "") return []
  const found = column.choices(typed).slice(0, mostChoices)
  return found.length === 1 && found[0]?.text === typed.trim().toLowerCase() ? [] : found
}

/** The choice gone to; else what was typed, where it is a code or could be several; else the one thing it can be. */
function chosenText(choices: readonly GridChoice[], at: number, typed: string): string {
  const chosen = choices[at]
  if (chosen !== undefined) return chosen.text
  const text = typed.trim().toLowerCase()
  if (choices.some((choice) => choice.text.toLowerCase() === text)) return typed.trim()
  return choices.length === 1 ? (choices[0]?.text ?? typed) : typed.trim()
}

function leavingBy({ key, shiftKey, ctrlKey, metaKey }: KeyboardEvent): Leaving | null {
  if (key === "Tab") return shiftKey ? "back" : "next"
  if (key !== "Enter") return null
  if (ctrlKey || metaKey) return "all"
  return shiftKey ? "up" : "down"
}

/** From the field (-1) through the choices and back to the field. */
const stepped = (at: number, count: number): number => (at < -1 ? count - 1 : at >= count ? -1 : at)

const leavingArrow = ({ key }: KeyboardEvent): boolean => key === "ArrowDown" || key === "ArrowUp"
