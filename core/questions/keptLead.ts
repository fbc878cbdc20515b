import type { Answer } from "../../shared/answer.ts"
import type { Lead } from "../../shared/savedQuestions.ts"

/** The two levels fished most, on the basis that leads; null where that basis does not tell them apart, or nothing is told. */
export function leadOf({ levels, contrasts, headline }: Answer): Lead | null {
  const [one, other] = levels.toSorted((a, b) => b.rod_hours - a.rod_hours).map(({ level }) => level)
  const found = contrasts.find(
    ({ a, b, basis }) =>
      basis === headline.basis && ((a === one && b === other) || (a === other && b === one)),
  )
  if (found === undefined) return null
  const { a, b, basis, ratio, low, high } = found
  return { a, b, basis, ratio, low, high }
}
