/** Logs of the two tails of a distribution at one point. */
export type LogTails = { lower: number; upper: number }

/** Both tails from the log of the lower one, which should be the smaller. */
export function tailsFromLower(logLower: number): LogTails {
  const lower = Math.min(0, logLower)
  return { lower, upper: logOfComplement(lower) }
}

/** Both tails from the log of the upper one, which should be the smaller. */
export function tailsFromUpper(logUpper: number): LogTails {
  const upper = Math.min(0, logUpper)
  return { lower: logOfComplement(upper), upper }
}

/** log(1 - e^x), for x <= 0. Source: Maechler (2012) Accurately computing log(1 - exp(-|a|)) (from memory). */
export function logOfComplement(x: number): number {
  return x > -Math.LN2 ? Math.log(-Math.expm1(x)) : Math.log1p(-Math.exp(x))
}
