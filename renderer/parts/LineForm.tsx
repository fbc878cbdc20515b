import type { ReactNode, Ref } from "react"

/** A form of one line to type in, kept with Enter; what is to be read of it follows as its children. */
export function LineForm({
  id,
  ref,
  label,
  line,
  placeholder,
  className = "new-line",
  children,
  onLine,
  onEnter,
  onEscape,
}: {
  readonly id: string
  readonly ref: Ref<HTMLInputElement>
  readonly label: ReactNode
  readonly line: string
  readonly placeholder?: string
  readonly className?: string
  readonly children: ReactNode
  readonly onLine: (line: string) => void
  readonly onEnter: () => void
  readonly onEscape: () => void
}) {
  return (
    <form
      className={className}
      onSubmit={(event) => {
        event.preventDefault()
        onEnter()
      }}
    >
      <label htmlFor={id} className="small-heading">
        {label}
      </label>
      <input
        id={id}
        ref={ref}
        className="typed-line"
        value={line}
        autoComplete="off"
        spellCheck={false}
        placeholder={placeholder}
        aria-describedby={`${id}-reading`}
        onChange={({ target }) => onLine(target.value)}
        onKeyDown={(event) => {
          if (event.key === "Escape") onEscape()
        }}
      />
      <div id={`${id}-reading`} aria-live="polite">
        {children}
      </div>
    </form>
  )
}
