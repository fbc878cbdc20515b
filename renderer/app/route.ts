import { useSyncExternalStore } from "react"

/** Where in the window one is; kept in the address after `#`, so that going back works. */
export type Route =
  | { readonly at: "logbook" }
  | { readonly at: "trip"; readonly trip: string }
  | { readonly at: "tackle" }
  | { readonly at: "spots" }
  | { readonly at: "roster" }
  | { readonly at: "produces" }
  | { readonly at: "files" }
  | { readonly at: "settings" }
  | { readonly at: "help" }
  | { readonly at: "about" }

/** The address of a route. */
export const addressOf = (route: Route): string =>
  route.at === "trip" ? `#/logbook/${encodeURIComponent(route.trip)}` : `#/${route.at}`

/** The route of an address; the logbook where it says nothing known. */
function routeOf(hash: string): Route {
  const [, at = "", rest = ""] = /^#\/([a-z]+)(?:\/(.+))?$/.exec(hash) ?? []
  if (at === "logbook" && rest !== "") return { at: "trip", trip: decodeURIComponent(rest) }
  switch (at) {
    case "tackle":
    case "spots":
    case "roster":
    case "produces":
    case "files":
    case "settings":
    case "help":
    case "about":
      return { at }
    default:
      return { at: "logbook" }
  }
}

export const go = (route: Route): void => void (location.hash = addressOf(route))

const listen = (heard: () => void): (() => void) => {
  window.addEventListener("hashchange", heard)
  return () => window.removeEventListener("hashchange", heard)
}

/** The present route. */
export const useRoute = (): Route => routeOf(useSyncExternalStore(listen, () => location.hash))
