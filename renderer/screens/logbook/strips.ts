import { createContext, use, useCallback, useEffect, useState, useSyncExternalStore } from "react"
import type { Client } from "../../../shared/rpc.ts"
import type { DayStrip } from "../../../shared/trips.ts"
import { useClient } from "../../client/useClient.ts"

/** Day strips of the rows in sight, asked for together. A strip is undefined until it has come, null where there is none. */
export type Strips = {
  /** Says that a row is in sight; returns how to say that it no longer is. */
  want(trip: string, heard: () => void): () => void
  get(trip: string): DayStrip | null | undefined
  close(): void
}

/** Rows that come into sight within this time are asked for in one call. */
const gatherMs = 30
const mostInOneCall = 24

/** Asks the core for strips as rows come into sight, and again for those in sight when the logbook has changed. */
function openStrips(client: Client): Strips {
  const known = new Map<string, DayStrip | null>()
  const wanted = new Map<string, Set<() => void>>()
  const fresh = new Set<string>()
  let timer: ReturnType<typeof setTimeout> | null = null
  let asking = false
  const soon = () => {
    if (!asking) timer ??= setTimeout(() => void ask(), gatherMs)
  }
  async function ask(): Promise<void> {
    timer = null
    const trips = [...wanted.keys()].filter((trip) => !fresh.has(trip)).slice(0, mostInOneCall)
    if (trips.length === 0) return
    asking = true
    for (const trip of trips) fresh.add(trip)
    try {
      const strips = await client.call("trips.strips", { trips })
      for (const trip of trips) known.set(trip, strips[trip] ?? null)
    } catch {
      // The list says what went wrong with the logbook; a row without its picture is still a row.
      for (const trip of trips) known.set(trip, null)
    }
    asking = false
    for (const trip of trips) for (const heard of wanted.get(trip) ?? []) heard()
    soon()
  }
  const stop = client.onChanged(() => {
    fresh.clear()
    soon()
  })
  return {
    want: (trip, heard) => {
      const listeners = wanted.get(trip) ?? new Set()
      wanted.set(trip, listeners.add(heard))
      soon()
      return () => {
        listeners.delete(heard)
        if (listeners.size === 0) wanted.delete(trip)
      }
    },
    get: (trip) => known.get(trip),
    close: () => {
      stop()
      if (timer !== null) clearTimeout(timer)
    },
  }
}

export const StripsContext = createContext<Strips | null>(null)

/** The strips of a list, for as long as it is shown; null until it is. */
export function useStrips(): Strips | null {
  const client = useClient()
  const [strips, setStrips] = useState<Strips | null>(null)
  useEffect(() => {
    const opened = openStrips(client)
    setStrips(opened)
    return () => opened.close()
  }, [client])
  return strips
}

/** A trip's strip; asked for while the caller is in sight. */
export function useStrip(trip: string): DayStrip | null | undefined {
  const strips = use(StripsContext)
  const want = useCallback(
    (heard: () => void) => strips?.want(trip, heard) ?? (() => undefined),
    [strips, trip],
  )
  return useSyncExternalStore(want, () => strips?.get(trip))
}
