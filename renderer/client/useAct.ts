import { useCallback, useRef, useState } from "react"
import type { Input, MethodName, Output } from "../../shared/api.ts"
import type { Problem } from "../../shared/problems.ts"
import { problemOf } from "../../shared/rpc.ts"
import { useClient } from "./useClient.ts"

/** Something the user does: run it, watch it, cancel it. `run` gives null where a problem came, which is kept to be shown. */
export type Act<M extends MethodName> = {
  readonly run: (input: Input<M>) => Promise<Output<M> | null>
  readonly running: boolean
  readonly progress: { readonly done: number; readonly of: number } | null
  readonly problem: Problem | null
  readonly cancel: () => void
  readonly forget: () => void
}

export function useAct<M extends MethodName>(method: M): Act<M> {
  const client = useClient()
  const [running, setRunning] = useState(false)
  const [progress, setProgress] = useState<{ done: number; of: number } | null>(null)
  const [problem, setProblem] = useState<Problem | null>(null)
  const ending = useRef<AbortController | null>(null)
  const run = useCallback(
    async (input: Input<M>): Promise<Output<M> | null> => {
      const own = new AbortController()
      ending.current = own
      setRunning(true)
      setProblem(null)
      try {
        return await client.call(method, input, {
          signal: own.signal,
          progress: (done, of) => setProgress({ done, of }),
        })
      } catch (error) {
        setProblem(problemOf(error))
        return null
      } finally {
        setRunning(false)
        setProgress(null)
      }
    },
    [client, method],
  )
  const cancel = useCallback(() => ending.current?.abort(), [])
  const forget = useCallback(() => setProblem(null), [])
  return { run, running, progress, problem, cancel, forget }
}
