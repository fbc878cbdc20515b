import type { Act } from "../../shared/history.ts"
import { utcText } from "../exchange/station/utcText.ts"
import { parse } from "./arguments.ts"
import type { Command } from "./command.ts"
import { wrapText } from "./textTable.ts"
import { withBook } from "./withBook.ts"

const listedAtOnce = 10

/** `undo`: takes one act back, or without one lists the latest. */
export const undoCommand: Command = async (args, context) => {
  const { file, rest } = parse(args, ["FILE", "[ACT]"], {})
  const [act] = rest
  return withBook(file, context, async (_, service) => {
    if (act === undefined) {
      const acts = await service["history.list"]({ count: listedAtOnce }, context)
      return { json: acts, text: (width) => actsText(acts, width) }
    }
    const undone = await service["history.undo"]({ act }, context)
    return {
      json: undone,
      text: (width) =>
        wrapText(`Put back: ${undone.said}. Undo that: undo FILE ${undone.act}`, width).join("\n"),
    }
  })
}

function actsText(acts: readonly Act[], width: number): string {
  if (acts.length === 0) return "Nothing was done in this logbook yet."
  return [
    ...wrapText("The latest acts, newest first. undo FILE ACT puts back what one changed.", width),
    ...acts.flatMap((act) =>
      wrapText(
        `${act.act}  ${utcText(act.at)}: ${act.said}${act.imported ? " (take-back undoes an import)" : ""}`,
        width - 2,
      ).map((line) => `  ${line}`),
    ),
  ].join("\n")
}
