import { createContext, use, useCallback, useEffect, useMemo, useRef, type ReactNode } from "react"
import { commands, type Command, type CommandId } from "../../shared/commands.ts"

type Run = () => void
/** Which commands can be run just now, and how. Screens add theirs while they are shown. */
type Actions = {
  readonly add: (id: CommandId, run: Run) => () => void
  readonly can: (id: CommandId) => boolean
  readonly run: (id: CommandId) => void
}

const ActionsContext = createContext<Actions | null>(null)

/** Holds what each command does at the moment, and listens to its key and to the shell's menus. */
export function ActionsProvider({ children }: { readonly children: ReactNode }) {
  const runs = useRef(new Map<CommandId, Run[]>())
  const add = useCallback((id: CommandId, run: Run) => {
    const known = runs.current.get(id) ?? []
    runs.current.set(id, [...known, run])
    return () =>
      void runs.current.set(
        id,
        (runs.current.get(id) ?? []).filter((one) => one !== run),
      )
  }, [])
  const can = useCallback((id: CommandId) => (runs.current.get(id) ?? []).length > 0, [])
  const run = useCallback((id: CommandId) => runs.current.get(id)?.at(-1)?.(), [])
  const actions = useMemo(() => ({ add, can, run }), [add, can, run])

  useEffect(() => {
    const heard = (event: KeyboardEvent) => {
      const command = commands.find((one) => matches(one, event))
      if (command === undefined || !can(command.id)) return
      event.preventDefault()
      run(command.id)
    }
    window.addEventListener("keydown", heard)
    const unlisten = window.stintbook?.onCommand((id) => {
      const command = commands.find((one) => one.id === id)
      if (command !== undefined && can(command.id)) run(command.id)
    })
    return () => {
      window.removeEventListener("keydown", heard)
      unlisten?.()
    }
  }, [can, run])
  return <ActionsContext value={actions}>{children}</ActionsContext>
}

export function useActions(): Actions {
  const actions = use(ActionsContext)
  if (actions === null) throw new Error("no actions around this screen")
  return actions
}

/** Says what a command does for as long as the caller is shown; null while it makes no sense. */
export function useCommand(id: CommandId, run: Run | null): void {
  const { add } = useActions()
  const latest = useRef(run)
  latest.current = run
  const able = run !== null
  useEffect(() => (able ? add(id, () => latest.current?.()) : undefined), [add, id, able])
}

/** Whether an event is a command's key. Single characters are left alone while something is being typed. */
function matches({ key, typing }: Command, event: KeyboardEvent): boolean {
  if (!typing && isTyping(event.target)) return false
  const parts = key.split("+")
  const wanted = parts.at(-1) ?? ""
  const mod = parts.includes("Mod")
  const alt = parts.includes("Alt")
  const shift = parts.includes("Shift")
  if (event.altKey !== alt || (event.ctrlKey || event.metaKey) !== mod) return false
  if (shift !== event.shiftKey && wanted.length > 1) return false
  // With Alt some systems type another character, so the key itself counts.
  const typed = alt && wanted.length === 1 ? event.code.replace(/^(?:Key|Digit)/, "") : event.key
  return typed.toLowerCase() === wanted.toLowerCase()
}

const isTyping = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement &&
  (target.isContentEditable || /^(?:INPUT|TEXTAREA|SELECT)$/.test(target.tagName))

/** A command's key as people read it. */
export const keyName = ({ key }: Command): string =>
  key.replace("Mod", /Mac/.test(navigator.userAgent) ? "Cmd" : "Ctrl").replaceAll("+", " ")
