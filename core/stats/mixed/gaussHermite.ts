/** Nodes x and log weights for the integral of exp(-x^2) f(x). */
export type Quadrature = { readonly x: Float64Array; readonly logWeight: Float64Array }

const made = new Map<number, Quadrature>()

/** Gauss-Hermite quadrature with so many nodes, exact for polynomials of degree 2 nodes - 1. A polynomial's roots are found
 *  one by one between those of the polynomial a degree lower, which they enclose. Each rule is made once.
 *  Source: Abramowitz & Stegun (1964) 25.4.46 and 22 (from memory). */
export function gaussHermite(nodes: number): Quadrature {
  if (!(Number.isInteger(nodes) && nodes >= 1 && nodes <= 200)) {
    throw new RangeError(`Quadrature needs a whole number of nodes from 1 to 200; it was given ${nodes}.`)
  }
  const known = made.get(nodes)
  if (known !== undefined) return known
  let roots: number[] = []
  for (let degree = 1; degree <= nodes; degree++) {
    const reach = Math.sqrt(2 * degree + 1)
    const fences = [-reach, ...roots, reach]
    roots = fences.slice(1).map((high, k) => rootBetween(fences[k] ?? -reach, high, degree))
  }
  const x = Float64Array.from(roots, (root, k) => (root - (roots[nodes - 1 - k] ?? 0)) / 2)
  const logWeight = x.map((root) => -Math.log(nodes) - 2 * Math.log(Math.abs(hermite(root, nodes - 1))))
  const quadrature = { x, logWeight }
  made.set(nodes, quadrature)
  return quadrature
}

/** The Hermite polynomial of this degree, normalised to integrate to 1 in square against exp(-x^2). */
function hermite(x: number, degree: number): number {
  let [before, value] = [0, Math.PI ** -0.25]
  for (let k = 0; k < degree; k++) {
    ;[before, value] = [value, x * Math.sqrt(2 / (k + 1)) * value - Math.sqrt(k / (k + 1)) * before]
  }
  return value
}

/** Newton's method, held between two points at which the polynomial has opposite signs. */
function rootBetween(low: number, high: number, degree: number): number {
  const rising = hermite(high, degree) > 0
  let x = (low + high) / 2
  for (let step = 0; step < 100; step++) {
    const value = hermite(x, degree)
    if (value > 0 === rising) high = x
    else low = x
    const newton = x - value / (Math.sqrt(2 * degree) * hermite(x, degree - 1))
    const next = newton > low && newton < high ? newton : (low + high) / 2
    if (Math.abs(next - x) <= 1e-15 * Math.max(1, Math.abs(x))) return next
    x = next
  }
  return x
}
