import { type Elements, speedOf } from "./astronomy.ts"
import type { NodeFactor, NodeKind } from "./nodeFactors.ts"

/**
 * One tidal constituent: how often it takes the hour angle of the mean sun and the mean longitudes, the constant angle in
 * degrees, and whose node factors it goes with: `nodes` multiplies f and adds u, a negative count subtracting its u.
 */
type Constituent = {
  readonly turns: readonly [sun: number, s: number, h: number, p: number, p1: number]
  readonly constant: number
  readonly nodes: readonly (readonly [NodeKind, number])[]
}

const of = (
  turns: Constituent["turns"],
  constant: number,
  ...nodes: readonly (readonly [NodeKind, number])[]
): Constituent => ({ turns, constant, nodes })

/**
 * The 37 constituents that the US National Ocean Service predicts with. Source: Schureman (1958) US C&GS Special
 * Publication 98, table 2; the hour angle of the mean sun is 180 degrees at midnight.
 */
const constituents = {
  M2: of([2, -2, 2, 0, 0], 0, ["M2", 1]),
  S2: of([2, 0, 0, 0, 0], 0),
  N2: of([2, -3, 2, 1, 0], 0, ["M2", 1]),
  K1: of([1, 0, 1, 0, 0], -90, ["K1", 1]),
  M4: of([4, -4, 4, 0, 0], 0, ["M2", 2]),
  O1: of([1, -2, 1, 0, 0], 90, ["O1", 1]),
  M6: of([6, -6, 6, 0, 0], 0, ["M2", 3]),
  MK3: of([3, -2, 3, 0, 0], -90, ["M2", 1], ["K1", 1]),
  S4: of([4, 0, 0, 0, 0], 0),
  MN4: of([4, -5, 4, 1, 0], 0, ["M2", 2]),
  NU2: of([2, -3, 4, -1, 0], 0, ["M2", 1]),
  S6: of([6, 0, 0, 0, 0], 0),
  MU2: of([2, -4, 4, 0, 0], 0, ["M2", 1]),
  "2N2": of([2, -4, 2, 2, 0], 0, ["M2", 1]),
  OO1: of([1, 2, 1, 0, 0], -90, ["OO1", 1]),
  LAM2: of([2, -1, 0, 1, 0], 180, ["M2", 1]),
  S1: of([1, 0, 0, 0, 0], 0),
  M1: of([1, -1, 1, 1, 0], -90, ["M1", 1]),
  J1: of([1, 1, 1, -1, 0], -90, ["J1", 1]),
  MM: of([0, 1, 0, -1, 0], 0, ["MM", 1]),
  SSA: of([0, 0, 2, 0, 0], 0),
  SA: of([0, 0, 1, 0, 0], 0),
  MSF: of([0, 2, -2, 0, 0], 0, ["M2", -1]),
  MF: of([0, 2, 0, 0, 0], 0, ["MF", 1]),
  RHO: of([1, -3, 3, -1, 0], 90, ["O1", 1]),
  Q1: of([1, -3, 1, 1, 0], 90, ["O1", 1]),
  T2: of([2, 0, -1, 0, 1], 0),
  R2: of([2, 0, 1, 0, -1], 180),
  "2Q1": of([1, -4, 1, 2, 0], 90, ["O1", 1]),
  P1: of([1, 0, -1, 0, 0], 90),
  "2SM2": of([2, 2, -2, 0, 0], 0, ["M2", -1]),
  M3: of([3, -3, 3, 0, 0], 0, ["M3", 1]),
  L2: of([2, -1, 2, -1, 0], 180, ["L2", 1]),
  "2MK3": of([3, -4, 3, 0, 0], 90, ["M2", 2], ["K1", -1]),
  K2: of([2, 0, 2, 0, 0], 0, ["K2", 1]),
  M8: of([8, -8, 8, 0, 0], 0, ["M2", 4]),
  MS4: of([4, -2, 2, 0, 0], 0, ["M2", 1]),
} as const satisfies Record<string, Constituent>

export type ConstituentName = keyof typeof constituents

export const isConstituent = (name: string): name is ConstituentName => Object.hasOwn(constituents, name)

/** How fast a constituent turns, degrees an hour. */
export function constituentSpeed(name: ConstituentName): number {
  const [sun, s, h, p, p1] = constituents[name].turns
  return sun * 15 + s * speedOf("s") + h * speedOf("h") + p * speedOf("p") + p1 * speedOf("p1")
}

/** The equilibrium argument V in degrees at midnight UTC, where the hour angle of the mean sun is 180. */
export function argumentAtMidnight(name: ConstituentName, at: Elements): number {
  const { turns, constant } = constituents[name]
  const [sun, s, h, p, p1] = turns
  return sun * 180 + s * at.s + h * at.h + p * at.p + p1 * at.p1 + constant
}

/** A constituent's own node factor from those of the kinds it is made of. */
export function nodeFactorOf(
  name: ConstituentName,
  kinds: Readonly<Record<NodeKind, NodeFactor>>,
): NodeFactor {
  let f = 1
  let u = 0
  for (const [kind, count] of constituents[name].nodes) {
    f *= kinds[kind].f ** Math.abs(count)
    u += kinds[kind].u * count
  }
  return { f, u }
}
