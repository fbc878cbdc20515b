import { useMemo } from "react"
import type { Input, MethodName, Output } from "../../shared/api.ts"
import { useClient } from "./useClient.ts"
import type { Caller } from "./useCall.ts"

/** A caller whose next call may be begun before it is made. */
export type Early<M extends MethodName> = {
  /** Begins a call that is about to be wanted; takes the place of one begun before that nobody wanted. */
  readonly begin: (input: Input<M>) => void
  /** Calls, or goes on with the call begun if that was of the same input. */
  readonly call: Caller<M>
}

/**
 * For what a click asks: the call goes out in the click itself, and is answered while the page is still drawing what else the click
 * changed, where `useCallOf` would make it when all of that is drawn.
 */
export function useEarly<M extends MethodName>(method: M): Early<M> {
  const client = useClient()
  return useMemo(() => {
    let begun: { key: string; answer: Promise<Output<M>>; ending: AbortController } | null = null
    return {
      begin: (input) => {
        begun?.ending.abort()
        const ending = new AbortController()
        const answer = client.call(method, input, { signal: ending.signal })
        answer.catch(() => undefined) // told to whoever wants it
        begun = { key: JSON.stringify(input), answer, ending }
      },
      call: (input, options) => {
        const own = begun
        begun = null
        if (own?.key !== JSON.stringify(input)) {
          own?.ending.abort()
          return client.call(method, input, options)
        }
        options.signal?.addEventListener("abort", () => own.ending.abort(), { once: true })
        return own.answer
      },
    }
  }, [client, method])
}
