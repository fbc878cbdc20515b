/** Minutes of arc between the lines of a map, the finest that leaves at most six of them. */
const steps = [1, 2, 5, 10, 20, 30, 60, 120, 300]
/** Degrees between the lines of a map so many degrees high. */
export const stepFor = (degrees: number): number =>
  (steps.find((minutes) => (degrees * 60) / minutes <= 6) ?? 600) / 60

/** Where the lines stand between two degrees. */
export const linesIn = (low: number, high: number, step: number): number[] =>
  Array.from(
    { length: Math.floor(high / step) - Math.ceil(low / step) + 1 },
    (_, i) => (Math.ceil(low / step) + i) * step,
  )

/** "31°20′N" */
export function degreesText(value: number, letters: readonly [string, string]): string {
  const size = Math.round(Math.abs(value) * 60)
  const minutes = size % 60
  return `${Math.floor(size / 60)}°${minutes === 0 ? "" : `${String(minutes).padStart(2, "0")}′`}${letters[value < 0 ? 1 : 0]}`
}
