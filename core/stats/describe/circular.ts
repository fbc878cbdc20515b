/** A mean resultant length below this is rounding, not direction. */
const NO_DIRECTION = 1e-12

/** Mean direction of angles in radians, in [0, 2 pi), and the mean resultant length: 1 where all agree, 0 where none prevails.
 *  The mean is null where there is none. RangeError without angles or with one that is not finite. Source: Fisher (1993)
 *  Statistical Analysis of Circular Data, section 2.3. */
export function circularMean(angles: Float64Array): { mean: number | null; resultant: number } {
  if (angles.length === 0) throw new RangeError("A mean direction needs at least one angle.")
  let [cosines, sines] = [0, 0]
  for (const angle of angles) {
    if (!Number.isFinite(angle)) throw new RangeError(`An angle must be finite; it was given ${angle}.`)
    cosines += Math.cos(angle)
    sines += Math.sin(angle)
  }
  const resultant = Math.hypot(cosines, sines) / angles.length
  if (resultant < NO_DIRECTION) return { mean: null, resultant: 0 }
  const mean = Math.atan2(sines, cosines)
  return { mean: mean < 0 ? mean + 2 * Math.PI : mean, resultant }
}
