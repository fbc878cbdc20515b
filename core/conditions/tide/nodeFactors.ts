import { elementsAt } from "./astronomy.ts"

/** What the moon's 18.6-year cycle does to a constituent: `f` times its amplitude, `u` degrees added to its phase. */
export type NodeFactor = { readonly f: number; readonly u: number }

/** Constituents of one kind go through the cycle alike; compounds are built from these. */
const kinds = ["none", "M2", "O1", "K1", "K2", "L2", "M1", "J1", "OO1", "MM", "MF", "M3"] as const
export type NodeKind = (typeof kinds)[number]

const radians = Math.PI / 180
const obliquity = 23.452 * radians
const inclination = 5.145 * radians

/**
 * Node factors at an instant in UTC ms, by kind. Source: Schureman (1958) US C&GS Special Publication 98, formulas for I,
 * nu, xi (paragraphs 22-24), 73-79, 149, 195-203, 207, 213-215, 224, 227, 232, 235 and table 2.
 */
export function nodeFactorsAt(at: number): Readonly<Record<NodeKind, NodeFactor>> {
  const elements = elementsAt(at)
  const node = (((elements.n % 360) + 360) % 360) * radians
  const inclined = Math.acos(
    Math.cos(inclination) * Math.cos(obliquity) -
      Math.sin(inclination) * Math.sin(obliquity) * Math.cos(node),
  )
  const sum = halfAngle(
    Math.cos((obliquity - inclination) / 2) / Math.cos((obliquity + inclination) / 2),
    node,
  )
  const difference = halfAngle(
    Math.sin((obliquity - inclination) / 2) / Math.sin((obliquity + inclination) / 2),
    node,
  )
  const nu = sum - difference
  const xi = node - sum - difference

  const sinI = Math.sin(inclined)
  const cosI = Math.cos(inclined)
  const sin2I = Math.sin(2 * inclined)
  const cosHalf2 = Math.cos(inclined / 2) ** 2
  const sinHalf2 = Math.sin(inclined / 2) ** 2
  const tanHalf2 = sinHalf2 / cosHalf2
  const nuPrime = Math.atan2(sin2I * Math.sin(nu), sin2I * Math.cos(nu) + 0.3347)
  const twoNuSecond = Math.atan2(sinI ** 2 * Math.sin(2 * nu), sinI ** 2 * Math.cos(2 * nu) + 0.0727)

  const perigee = elements.p * radians - xi
  const cos2P = Math.cos(2 * perigee)
  const l2 = Math.sqrt(1 - 12 * tanHalf2 * cos2P + 36 * tanHalf2 ** 2)
  const r = Math.atan2(Math.sin(2 * perigee), 1 / (6 * tanHalf2) - cos2P)
  const ratio = cosI / cosHalf2
  const m1 = Math.sqrt(0.25 + 1.5 * ratio * cos2P + 2.25 * ratio ** 2)
  const q = Math.atan2((5 * cosI - 1) * Math.sin(perigee), (7 * cosI + 1) * Math.cos(perigee))

  const m2 = cosHalf2 ** 2 / 0.9154
  const o1 = (sinI * cosHalf2) / 0.38
  const u = (angle: number) => Math.atan2(Math.sin(angle), Math.cos(angle)) / radians
  return {
    none: { f: 1, u: 0 },
    M2: { f: m2, u: u(2 * xi - 2 * nu) },
    O1: { f: o1, u: u(2 * xi - nu) },
    K1: {
      f: Math.sqrt(0.8965 * sin2I ** 2 + 0.6001 * sin2I * Math.cos(nu) + 0.1006),
      u: u(-nuPrime),
    },
    K2: {
      f: Math.sqrt(19.0444 * sinI ** 4 + 2.7702 * sinI ** 2 * Math.cos(2 * nu) + 0.0981),
      u: u(-twoNuSecond),
    },
    L2: { f: m2 * l2, u: u(2 * xi - 2 * nu - r) },
    M1: { f: o1 * m1, u: u(q - perigee - nu) },
    J1: { f: sin2I / 0.7214, u: u(-nu) },
    OO1: { f: (sinI * sinHalf2) / 0.0164, u: u(-2 * xi - nu) },
    MM: { f: (2 / 3 - sinI ** 2) / 0.5021, u: 0 },
    MF: { f: sinI ** 2 / 0.1578, u: u(-2 * xi) },
    M3: { f: cosHalf2 ** 3 / 0.8758, u: u(3 * xi - 3 * nu) },
  }
}

/** The angle a with tan a = factor x tan(node / 2), in the same half turn as node / 2 (0 to pi). */
function halfAngle(factor: number, node: number): number {
  return Math.atan2(factor * Math.sin(node / 2), Math.cos(node / 2))
}
