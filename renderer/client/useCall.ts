import { useEffect, useRef, useState } from "react"
import type { Input, MethodName, Output } from "../../shared/api.ts"
import type { Problem } from "../../shared/problems.ts"
import { problemOf } from "../../shared/rpc.ts"
import { useClient } from "./useClient.ts"

/** What a call has come to: its newest value stays in sight while it is asked again. */
export type Called<T> = {
  readonly value: T | null
  readonly problem: Problem | null
  readonly asking: boolean
  readonly progress: { readonly done: number; readonly of: number } | null
}

const nothingYet = { value: null, problem: null, asking: true, progress: null } as const

/**
 * Calls a method, again whenever its input or the logbook changes; an answer that is no longer wanted is cancelled. With
 * `input` null nothing is asked; another `turn` asks again. After a change it waits until there was none for `rest` ms: for what
 * is dear to tell and need not follow every key.
 */
export function useCall<M extends MethodName>(
  method: M,
  input: Input<M> | null,
  turn = 0,
  rest = 0,
): Called<Output<M>> {
  const client = useClient()
  const [called, setCalled] = useState<Called<Output<M>>>(nothingYet)
  const [version, setVersion] = useState(0)
  const key = JSON.stringify(input)
  const latest = useRef(input)
  latest.current = input

  useEffect(() => {
    let waiting: ReturnType<typeof setTimeout> | null = null
    const again = () => setVersion((known) => known + 1)
    const unlisten = client.onChanged(() => {
      if (rest === 0) return again()
      if (waiting !== null) clearTimeout(waiting)
      waiting = setTimeout(again, rest)
    })
    return () => {
      unlisten()
      if (waiting !== null) clearTimeout(waiting)
    }
  }, [client, rest])
  useEffect(() => {
    const wanted = latest.current
    if (wanted === null) return
    const ending = new AbortController()
    setCalled((before) => ({ ...before, asking: true }))
    client
      .call(method, wanted, {
        signal: ending.signal,
        progress: (done, of) => setCalled((before) => ({ ...before, progress: { done, of } })),
      })
      .then(
        (value) =>
          ending.signal.aborted || setCalled({ value, problem: null, asking: false, progress: null }),
        (error: unknown) =>
          ending.signal.aborted ||
          setCalled((before) => ({ ...before, problem: problemOf(error), asking: false, progress: null })),
      )
    return () => ending.abort()
  }, [client, method, key, version, turn])
  return called
}
