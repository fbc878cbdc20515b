import { mayHave, mayNavigate, mayOpenOutside, pageAddress } from "./policy.ts"

type Stoppable = { preventDefault(): void }
type Navigation = Stoppable & { readonly url: string }

/** What the guard needs of Electron's WebContents. */
export type GuardedContents = {
  on(event: "will-navigate", listener: (navigation: Navigation) => void): unknown
  on(event: "will-redirect", listener: (navigation: Navigation) => void): unknown
  on(event: "will-frame-navigate", listener: (navigation: Navigation) => void): unknown
  on(event: "will-attach-webview", listener: (event: Stoppable) => void): unknown
  setWindowOpenHandler(handler: (details: { readonly url: string }) => { action: "deny" }): void
}

/** What the guard needs of Electron's Session. */
export type GuardedSession = {
  setPermissionRequestHandler(
    handler: (contents: unknown, permission: string, answer: (granted: boolean) => void) => void,
  ): void
  setPermissionCheckHandler(handler: (contents: unknown, permission: string) => boolean): void
  setDevicePermissionHandler(handler: () => boolean): void
  readonly webRequest: {
    onBeforeRequest(
      filter: { urls: string[] },
      listener: (details: unknown, answer: (response: { cancel: boolean }) => void) => void,
    ): void
  }
}

/** Every scheme that could reach another computer, or a file of this one. */
const foreignAddresses = ["http://*/*", "https://*/*", "ws://*/*", "wss://*/*", "file:///*"]

/** Holds a window's contents to the product's own page; links to the named agencies go to the system's browser. */
export function guardContents(contents: GuardedContents, openOutside: (address: string) => void): void {
  const keepHere = (navigation: Navigation): void => {
    if (!mayNavigate(navigation.url, pageAddress)) navigation.preventDefault()
  }
  contents.on("will-navigate", keepHere)
  contents.on("will-redirect", keepHere)
  contents.on("will-frame-navigate", keepHere)
  contents.on("will-attach-webview", (event) => event.preventDefault())
  contents.setWindowOpenHandler(({ url }) => {
    if (mayOpenOutside(url)) openOutside(url)
    return { action: "deny" }
  })
}

/** Denies what pages may ask of the system, and every request to the network. */
export function guardSession(session: GuardedSession): void {
  session.setPermissionRequestHandler((_contents, permission, answer) => answer(mayHave(permission)))
  session.setPermissionCheckHandler((_contents, permission) => mayHave(permission))
  session.setDevicePermissionHandler(() => false)
  session.webRequest.onBeforeRequest({ urls: foreignAddresses }, (_details, answer) =>
    answer({ cancel: true }),
  )
}
