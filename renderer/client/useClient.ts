import { createContext, use } from "react"
import type { Client } from "../../shared/rpc.ts"

export const ClientContext = createContext<Client | null>(null)

/** The connection to the core that every screen shares. */
export function useClient(): Client {
  const client = use(ClientContext)
  if (client === null) throw new Error("no client around this screen")
  return client
}
