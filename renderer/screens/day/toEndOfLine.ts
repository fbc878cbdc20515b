import type { KeyboardEvent } from "react"

/**
 * Home and End, with or without Shift, go to the ends of the line typed rather than of the row it happens to stand in, so that
 * what is added goes where it is meant on a narrow page too. Whether the key was such a one and has been obeyed.
 */
export function toEndOfLine(event: KeyboardEvent<HTMLTextAreaElement>): boolean {
  const { key, ctrlKey, altKey, metaKey, shiftKey, currentTarget: field } = event
  if ((key !== "Home" && key !== "End") || ctrlKey || altKey || metaKey) return false
  const { value, selectionStart, selectionEnd, selectionDirection } = field
  const backward = selectionDirection === "backward"
  const caret = backward ? selectionStart : selectionEnd
  const fixed = backward ? selectionEnd : selectionStart
  const end = value.indexOf("\n", caret)
  const goal = key === "Home" ? value.lastIndexOf("\n", caret - 1) + 1 : end === -1 ? value.length : end
  if (!shiftKey) field.setSelectionRange(goal, goal)
  else if (goal < fixed) field.setSelectionRange(goal, fixed, "backward")
  else field.setSelectionRange(fixed, goal, "forward")
  return true
}
