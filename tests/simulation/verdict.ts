import type { Coverage } from "./coverage.ts"

/** Whether coverage lies in 93 to 97%, give or take two Monte Carlo errors; "low" and "wide" are below and above. */
export function verdict({ covered, error }: Coverage): "as promised" | "low" | "wide" {
  if (covered + 2 * error < 0.93) return "low"
  if (covered - 2 * error > 0.97) return "wide"
  return "as promised"
}
