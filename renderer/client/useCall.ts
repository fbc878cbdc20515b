import { useCallback, useEffect, useRef, useState } from "react"
import type { Input, MethodName, Output } from "../../shared/api.ts"
import type { Problem } from "../../shared/problems.ts"
import { problemOf, type CallOptions } from "../../shared/rpc.ts"
import { useClient } from "./useClient.ts"

/** What a call has come to: its newest value stays in sight while it is asked again. */
export type Called<T> = {
  readonly value: T | null
  readonly problem: Problem | null
  /** Whether the value is not, or not yet, the answer to what is wanted now. */
  readonly asking: boolean
  readonly progress: { readonly done: number; readonly of: number } | null
}

/** What came last, and which call it came of. */
type Came<T> = { readonly of: string; readonly value: T | null; readonly problem: Problem | null }
type Step = { readonly of: string; readonly done: number; readonly from: number }

const nothingYet = { of: "", value: null, problem: null } as const

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
  const caller = useCallback<Caller<M>>(
    (wanted, options) => client.call(method, wanted, options),
    [client, method],
  )
  return useCallOf(caller, input, turn, rest)
}

/** Calls one method; the same function as long as it calls the same. */
export type Caller<M extends MethodName> = (input: Input<M>, options: CallOptions) => Promise<Output<M>>

/** The same by a caller of one's own. */
export function useCallOf<M extends MethodName>(
  caller: Caller<M>,
  input: Input<M> | null,
  turn = 0,
  rest = 0,
): Called<Output<M>> {
  const client = useClient()
  const [came, setCame] = useState<Came<Output<M>>>(nothingYet)
  const [step, setStep] = useState<Step | null>(null)
  const [version, setVersion] = useState(0)
  const call = `${version} ${turn} ${JSON.stringify(input)}`
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
    caller(wanted, {
      signal: ending.signal,
      progress: (done, from) => setStep({ of: call, done, from }),
    }).then(
      (value) => ending.signal.aborted || setCame({ of: call, value, problem: null }),
      (error: unknown) =>
        ending.signal.aborted || setCame(({ value }) => ({ of: call, value, problem: problemOf(error) })),
    )
    return () => ending.abort()
  }, [caller, call])
  const asking = input !== null && came.of !== call
  return {
    value: came.value,
    problem: came.problem,
    asking,
    progress: asking && step?.of === call ? { done: step.done, of: step.from } : null,
  }
}
