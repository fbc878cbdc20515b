import { useSyncExternalStore } from "react"

/** How a trip is seen: read, or typed in one of four ways, or as a card to print. */
export const tripViews = ["sheet", "tape", "fish", "log", "card"] as const
export type TripView = (typeof tripViews)[number]

/** Where in the window one is; kept in the address after `#`, so that going back works. */
export type Route =
  | { readonly at: "logbook" }
  | { readonly at: "trip"; readonly trip: string; readonly view?: TripView }
  | { readonly at: "history" }
  | { readonly at: "tape-help" }
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
  route.at === "trip"
    ? `#/logbook/${encodeURIComponent(route.trip)}${route.view === undefined ? "" : `/${route.view}`}`
    : `#/${route.at}`

/** The route of an address; the logbook where it says nothing known. */
function routeOf(hash: string): Route {
  const [, at = "", rest = ""] = /^#\/([a-z-]+)(?:\/(.+))?$/.exec(hash) ?? []
  if (at === "logbook" && rest !== "") {
    const [trip = "", wanted = ""] = rest.split("/").map(decodeURIComponent)
    const view = tripViews.find((one) => one === wanted)
    return view === undefined ? { at: "trip", trip } : { at: "trip", trip, view }
  }
  switch (at) {
    case "tackle":
    case "spots":
    case "roster":
    case "history":
    case "tape-help":
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
