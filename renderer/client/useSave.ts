import { useCallback } from "react"
import type { Input, MethodName } from "../../shared/api.ts"
import { problemOf } from "../../shared/rpc.ts"
import { useClient } from "./useClient.ts"

/** Saves by a method, for fields that say themselves what was wrong: gives that sentence, null where it was saved. */
export function useSave<M extends MethodName>(method: M): (input: Input<M>) => Promise<string | null> {
  const client = useClient()
  return useCallback(
    (input) =>
      client.call(method, input).then(
        () => null,
        (error: unknown) => problemOf(error).message,
      ),
    [client, method],
  )
}
