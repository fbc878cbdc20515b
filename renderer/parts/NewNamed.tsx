import { useState, type ReactNode, type Ref } from "react"
import { Button } from "react-aria-components"
import type { CodeKind } from "../../shared/codes.ts"
import { useCall } from "../client/useCall.ts"
import { Wrong } from "./Wrong.tsx"

/** Something new by its name, with the code suggested for it; `onKeep` says whether it was kept. */
export function NewNamed({
  ref,
  kind,
  label,
  placeholder,
  wrong,
  children,
  onKeep,
}: {
  readonly ref?: Ref<HTMLInputElement>
  readonly kind: CodeKind
  readonly label: string
  readonly placeholder: string
  readonly wrong: string | null
  /** Fields besides the name. */
  readonly children?: ReactNode
  readonly onKeep: (named: { readonly name: string; readonly code?: string }) => Promise<boolean>
}) {
  const [typed, setTyped] = useState("")
  const name = typed.trim()
  const code = useCall("codes.check", name === "" ? null : { kind, name }).value?.suggested.code
  const keep = async (): Promise<void> => {
    if (name === "") return
    if (await onKeep({ name, ...(code === undefined ? {} : { code }) })) setTyped("")
  }
  return (
    <form
      className="new-named"
      onSubmit={(event) => {
        event.preventDefault()
        void keep()
      }}
    >
      <div className="row own-words">
        <label>
          <span className="soft small">{label}</span>
          <input
            ref={ref}
            className="long"
            value={typed}
            autoComplete="off"
            placeholder={placeholder}
            onChange={({ target }) => setTyped(target.value)}
          />
        </label>
        {children}
        {name === "" ? null : (
          <Button type="submit" className="main">
            Keep it{code === undefined ? "" : ` as ${code}`} <kbd>Enter</kbd>
          </Button>
        )}
      </div>
      <Wrong sentence={wrong} />
    </form>
  )
}
