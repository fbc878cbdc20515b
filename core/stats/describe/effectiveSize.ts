/** How many equally weighted values carry as much information as values with these weights: (sum w)^2 / sum w^2; 0 if all
 *  weights are 0. RangeError for a weight below 0 or not finite. Source: Kish (1965) Survey Sampling. */
export function effectiveSize(weights: Float64Array): number {
  let [sum, squares] = [0, 0]
  for (const weight of weights) {
    if (!(weight >= 0 && weight < Infinity))
      throw new RangeError(`A weight must be a finite number of 0 or more; it was given ${weight}.`)
    sum += weight
    squares += weight * weight
  }
  return squares === 0 ? 0 : sum ** 2 / squares
}
