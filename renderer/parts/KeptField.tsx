import { useId, useState } from "react"

/**
 * A value in a field that is kept when it is left, or with Enter; Escape puts back what was kept. What is wrong with it is said
 * at its place, and it stays as typed until it is mended.
 */
export function KeptField({
  label,
  value,
  onKeep,
  hidden = false,
  placeholder,
  className,
  hint,
  suggestions,
  long = false,
}: {
  readonly label: string
  readonly value: string
  /** Keeps what was typed; gives the sentence that says what is wrong with it, null where it was kept. */
  readonly onKeep: (typed: string) => Promise<string | null>
  /** Whether the label is only for those who hear the page. */
  readonly hidden?: boolean
  readonly placeholder?: string
  readonly className?: string
  readonly hint?: string
  /** Words to choose from while typing; others may be typed. */
  readonly suggestions?: readonly string[]
  /** Whether it holds lines of text. */
  readonly long?: boolean
}) {
  const id = useId()
  const [typed, setTyped] = useState<string | null>(null)
  const [wrong, setWrong] = useState<string | null>(null)
  const keep = async (): Promise<void> => {
    if (typed === null) return
    if (typed === value) return forget()
    const problem = await onKeep(typed)
    setWrong(problem)
    if (problem === null) setTyped(null)
  }
  const forget = (): void => {
    setTyped(null)
    setWrong(null)
  }
  const described = [hint === undefined ? null : `${id}-hint`, wrong === null ? null : `${id}-wrong`]
    .filter((part) => part !== null)
    .join(" ")
  const Field = long ? "textarea" : "input"
  return (
    <span className={`kept-field ${className ?? ""}`}>
      <label htmlFor={id} className={hidden ? "hidden" : "soft small"}>
        {label}
      </label>
      <Field
        id={id}
        value={typed ?? value}
        placeholder={placeholder}
        autoComplete="off"
        spellCheck={long}
        {...(long ? { rows: 3 } : {})}
        {...(suggestions === undefined ? {} : { list: `${id}-words` })}
        data-kept={typed === null ? "" : undefined}
        aria-invalid={wrong === null ? undefined : true}
        aria-describedby={described === "" ? undefined : described}
        onChange={({ target }) => setTyped(target.value)}
        onBlur={() => void keep()}
        onKeyDown={(event) => {
          if (event.key === "Enter" && (!long || event.ctrlKey || event.metaKey)) void keep()
          if (event.key === "Escape" && typed !== null) {
            event.stopPropagation()
            forget()
          }
        }}
      />
      {suggestions === undefined ? null : (
        <datalist id={`${id}-words`}>
          {suggestions.map((word) => (
            <option key={word} value={word} />
          ))}
        </datalist>
      )}
      {hint === undefined ? null : (
        <span id={`${id}-hint`} className="soft small">
          {hint}
        </span>
      )}
      {wrong === null ? null : (
        <span id={`${id}-wrong`} className="wrong small" role="alert">
          {wrong}
        </span>
      )}
    </span>
  )
}
