import { createContext, use, useEffect, useMemo, useState, type ReactNode } from "react"

/** Files on their way to the page that brings them in. */
type Incoming = {
  readonly files: readonly File[]
  /** Leaves files for that page. */
  readonly leave: (files: readonly File[]) => void
}

const IncomingContext = createContext<Incoming | null>(null)

/** Keeps files that were chosen or dropped on one page until another takes them. */
export function IncomingProvider({ children }: { readonly children: ReactNode }) {
  const [files, leave] = useState<readonly File[]>([])
  const incoming = useMemo(() => ({ files, leave }), [files])
  return <IncomingContext value={incoming}>{children}</IncomingContext>
}

export function useIncoming(): Incoming {
  const incoming = use(IncomingContext)
  if (incoming === null) throw new Error("nothing around this screen keeps files")
  return incoming
}

/**
 * Takes files dropped anywhere on the window; null lets nothing be dropped. A browser would leave the page and open them. The
 * same can be done by the keyboard with the command that imports.
 */
export function useDrop(onFiles: ((files: readonly File[]) => void) | null): void {
  useEffect(() => {
    const over = (event: DragEvent): void => {
      event.preventDefault()
      if (event.dataTransfer !== null) event.dataTransfer.dropEffect = onFiles === null ? "none" : "copy"
    }
    const drop = (event: DragEvent): void => {
      event.preventDefault()
      const files = [...(event.dataTransfer?.files ?? [])]
      if (files.length > 0) onFiles?.(files)
    }
    window.addEventListener("dragover", over)
    window.addEventListener("drop", drop)
    return () => {
      window.removeEventListener("dragover", over)
      window.removeEventListener("drop", drop)
    }
  }, [onFiles])
}
