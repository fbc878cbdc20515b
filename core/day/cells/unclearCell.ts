import type { Unclear } from "../../../shared/day.ts"
import { Unreadable } from "../../tape/piece.ts"

/** Why a text that was kept does not fit its cell. What could be read by now wants to be entered again. */
export function unclearCell(text: string, set: () => void): Unclear {
  try {
    set()
  } catch (error) {
    if (error instanceof Unreadable) return whole(error.unclear, text)
    throw error
  }
  const sentence = "This could not be read before and can be now: enter it again."
  return { from: 0, to: text.length, sentence, choices: [text] }
}

/** What is wrong with a cell as a whole marks all of it. */
const whole = (unclear: Unclear, text: string): Unclear =>
  unclear.from === unclear.to ? { ...unclear, from: 0, to: text.length } : unclear
