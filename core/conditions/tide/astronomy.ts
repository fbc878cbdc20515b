const hoursPerCentury = 36_525 * 24
/** Greenwich mean noon of 31 December 1899, UTC ms: where Schureman counts from. */
const epoch = Date.UTC(1899, 11, 31, 12)
const hourMs = 3_600_000

/** A mean longitude in degrees: at the epoch, its motion a century, and how that motion changes. */
type Longitude = readonly [atEpoch: number, aCentury: number, squared: number, cubed: number]

/**
 * Mean longitudes of moon (s), sun (h), lunar perigee (p), ascending lunar node (n) and solar perigee (p1).
 * Source: Schureman (1958) Manual of harmonic analysis and prediction of tides, US C&GS Special Publication 98, table 1.
 */
const longitudes = {
  s: [270.437422, 481_267.892, 0.002525, 0.00000189],
  h: [279.696678, 36_000.768925, 0.0003025, 0],
  p: [334.328019, 4_069.032206, -0.010344, -0.0000125],
  n: [259.182533, -1_934.142397, 0.002106, 0.00000222],
  p1: [281.220833, 1.719175, 0.000452778, 0.00000333],
} as const satisfies Record<string, Longitude>

export type Body = keyof typeof longitudes

/** The astronomical elements in degrees, not reduced to one turn. */
export type Elements = Readonly<Record<Body, number>>

/** Mean longitudes at an instant in UTC ms, degrees. */
export function elementsAt(at: number): Elements {
  const centuries = (at - epoch) / hourMs / hoursPerCentury
  const of = ([a, b, c, d]: Longitude) => a + centuries * (b + centuries * (c + centuries * d))
  return {
    s: of(longitudes.s),
    h: of(longitudes.h),
    p: of(longitudes.p),
    n: of(longitudes.n),
    p1: of(longitudes.p1),
  }
}

/** How fast a mean longitude moves, degrees an hour. */
export const speedOf = (body: Body): number => longitudes[body][1] / hoursPerCentury
