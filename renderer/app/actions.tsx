import { createContext, use, useCallback, useEffect, useMemo, useRef, type ReactNode } from "react"
import { commands, type Command, type CommandId } from "../../shared/commands.ts"

type Run = () => void
/** Which commands can be run just now, and how. Screens add theirs while they are shown. */
type Actions = {
  readonly add: (id: CommandId, run: Run) => () => void
  readonly can: (id: CommandId) => boolean
  readonly run: (id: CommandId) => void
  /** Runs a command as soon as a screen says what it does: for one that is done on another screen. */
  readonly later: (id: CommandId) => void
}

const ActionsContext = createContext<Actions | null>(null)

/** Holds what each command does at the moment, and listens to its key and to the shell's menus. */
export function ActionsProvider({ children }: { readonly children: ReactNode }) {
  const runs = useRef(new Map<CommandId, Run[]>())
  const awaited = useRef<CommandId | null>(null)
  const can = useCallback((id: CommandId) => (runs.current.get(id) ?? []).length > 0, [])
  const tellShell = useMenusOf(can)
  const add = useCallback(
    (id: CommandId, run: Run) => {
      runs.current.set(id, [...(runs.current.get(id) ?? []), run])
      tellShell()
      if (awaited.current === id) {
        awaited.current = null
        queueMicrotask(run)
      }
      return () => {
        runs.current.set(
          id,
          (runs.current.get(id) ?? []).filter((one) => one !== run),
        )
        tellShell()
      }
    },
    [tellShell],
  )
  const run = useCallback((id: CommandId) => {
    awaited.current = null
    runs.current.get(id)?.at(-1)?.()
  }, [])
  const later = useCallback((id: CommandId) => void (awaited.current = id), [])
  const actions = useMemo(() => ({ add, can, run, later }), [add, can, run, later])

  useEffect(() => {
    const heard = (event: KeyboardEvent) => {
      const command = commands.find((one) => matches(one, event) && can(one.id))
      if (command === undefined) return
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

/** Makes the function that tells the shell, once for all changes of a moment, which menu entries do something now. */
function useMenusOf(can: (id: CommandId) => boolean): () => void {
  const told = useRef(false)
  return useCallback(() => {
    const shell = window.stintbook
    if (shell === undefined || told.current) return
    told.current = true
    queueMicrotask(() => {
      told.current = false
      shell.setAble(commands.filter(({ id }) => can(id)).map(({ id }) => id))
    })
  }, [can])
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
  if (!typing && isTyping(event.target) && !(key.startsWith("Mod+") && isAsKept(event.target))) return false
  const parts = key.split("+")
  const wanted = parts.at(-1) ?? ""
  const mod = parts.includes("Mod")
  const alt = parts.includes("Alt")
  const shift = parts.includes("Shift")
  if (event.altKey !== alt || (event.ctrlKey || event.metaKey) !== mod) return false
  // Some characters are typed with Shift; with Alt or Mod it tells one command from another.
  if (shift !== event.shiftKey && (wanted.length > 1 || alt || mod)) return false
  // With Alt some systems type another character, so the key itself counts.
  const typed = alt && wanted.length === 1 ? event.code.replace(/^(?:Key|Digit)/, "") : event.key
  return (typed === " " ? "space" : typed.toLowerCase()) === wanted.toLowerCase()
}

const isTyping = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement &&
  (target.isContentEditable || /^(?:INPUT|TEXTAREA|SELECT)$/.test(target.tagName))

/** Whether a field holds what is kept, so that it has no typing of its own to take back. */
const isAsKept = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && target.dataset["kept"] !== undefined

/** A command's key as people read it. */
export const keyName = ({ key }: Command): string =>
  key.replace("Mod", /Mac/.test(navigator.userAgent) ? "Cmd" : "Ctrl").replaceAll("+", " ")
