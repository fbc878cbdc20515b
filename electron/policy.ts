// The security policy of both hosts: plain data and pure functions, without Electron, so that tests can hold every point.

/** What a page may load and run: its own files, nothing inline, nothing evaluated, no address but its own. */
export const contentSecurityPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' blob: data:",
  "font-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
  "require-trusted-types-for 'script'",
  "trusted-types 'none'",
].join("; ")

const deniedFeatures = [
  "camera",
  "display-capture",
  "geolocation",
  "hid",
  "microphone",
  "midi",
  "payment",
  "serial",
  "usb",
]

/** Headers of every answer of either host. */
export const pageHeaders: Readonly<Record<string, string>> = {
  "Content-Security-Policy": contentSecurityPolicy,
  "X-Content-Type-Options": "nosniff",
  "Referrer-Policy": "no-referrer",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Resource-Policy": "same-origin",
  "Permissions-Policy": deniedFeatures.map((feature) => `${feature}=()`).join(", "),
  "Cache-Control": "no-store",
}

/** What a page of the Electron window can do: nothing but show itself. The spelling checker would fetch dictionaries. */
export const webPreferences = {
  contextIsolation: true,
  sandbox: true,
  nodeIntegration: false,
  nodeIntegrationInWorker: false,
  nodeIntegrationInSubFrames: false,
  webSecurity: true,
  allowRunningInsecureContent: false,
  experimentalFeatures: false,
  webviewTag: false,
  navigateOnDragDrop: false,
  spellcheck: false,
} as const

/** The Electron window's own scheme: a standard, secure origin that, unlike `file:`, reaches no other file. */
export const pageScheme = "stintbook"
export const pageAddress = `${pageScheme}://app/index.html`

/** Pages of public agencies that the product names as sources of its data and of forecasts. */
const outsideHosts: ReadonlySet<string> = new Set([
  "tidesandcurrents.noaa.gov",
  "www.ndbc.noaa.gov",
  "www.weather.gov",
])

/** Whether a window that shows `page` may go to `target`: only to the product's own pages. */
export function mayNavigate(target: string, page: string): boolean {
  const to = URL.parse(target)
  const own = URL.parse(page)
  if (to === null || own === null) return false
  return to.protocol === own.protocol && to.host === own.host && to.username === "" && to.password === ""
}

/** Whether an address may be handed to the system's browser: https, and one of the agencies' own. */
export function mayOpenOutside(target: string): boolean {
  const to = URL.parse(target)
  return (
    to !== null &&
    to.protocol === "https:" &&
    outsideHosts.has(to.host) &&
    to.username === "" &&
    to.password === ""
  )
}

/** Whether a page may have a permission it asks for: only to put text on the clipboard. */
export function mayHave(permission: string): boolean {
  return permission === "clipboard-sanitized-write"
}

/** Whether a message between processes comes from a page of ours, in the window's own frame. */
export function senderAllowed(frame: { readonly url: string; readonly top: boolean } | null): boolean {
  return frame !== null && frame.top && mayNavigate(frame.url, pageAddress)
}

/** The one origin of the loopback host's pages. */
export function loopbackOrigin(port: number): string {
  return `http://127.0.0.1:${port}`
}

/** Whether a request names us by our address: a foreign name that resolves to 127.0.0.1 is a rebinding. */
export function hostAllowed(host: string | undefined, port: number): boolean {
  return host === `127.0.0.1:${port}`
}

/**
 * Whether a browser says that its user or our own page made the request; other programs say nothing. Another port of this
 * computer counts as the same site, so cookies go along with what its pages ask. Source: W3C Fetch Metadata Request
 * Headers, `Sec-Fetch-Site`.
 */
export function siteAllowed(site: string | string[] | undefined): boolean {
  return site === undefined || site === "same-origin" || site === "none"
}

/** Whether a request that says where it comes from comes from our own page. */
export function originAllowed(origin: string | undefined, port: number): boolean {
  return origin === loopbackOrigin(port)
}
