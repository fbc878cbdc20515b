/** Years for which constants of our time are used; beyond them sea, bars and channels were or will be others. Ours. */
export const firstYear = 1900
export const lastYear = 2100

/** Whether tides and currents are predicted for an instant in UTC ms. */
export function canPredict(at: number): boolean {
  return at >= Date.UTC(firstYear, 0) && at < Date.UTC(lastYear + 1, 0)
}
