import { api } from "../../shared/api.ts"
import { parse, sentences } from "./arguments.ts"
import type { Command } from "./command.ts"
import { wrapText } from "./textTable.ts"
import { UsageError } from "./usage.ts"
import { withBook } from "./withBook.ts"

/** `log`: a day on the tape, from standard input, as a new trip. A tape of which something is not clear is not kept. */
export const logCommand: Command = async (args, context) => {
  const { file, values } = parse(args, ["FILE"], {
    date: { type: "string" },
    place: { type: "string" },
    angler: { type: "string", multiple: true },
  })
  const { date, place } = values
  if (typeof date !== "string") throw new UsageError("--date is wanted: the day of the trip, as 2026-05-15.")
  const anglers = Array.isArray(values["angler"]) ? values["angler"].map(String) : []
  const text = context.input().replace(/\s+$/, "")
  return withBook(file, context, async (_, service) => {
    const wanted = api["day.log"].input.safeParse({
      date,
      anglers,
      text,
      ...(typeof place === "string" ? { place } : {}),
    })
    if (!wanted.success) throw new UsageError(sentences(wanted.error.issues))
    const saved = await service["day.log"](wanted.data, context)
    return { json: saved, text: (width) => savedText(saved.lines, saved.said, saved.act, width) }
  })
}

function savedText(
  lines: readonly { readonly text: string; readonly said: string }[],
  said: string,
  act: string,
  width: number,
): string {
  return [
    ...lines.flatMap(({ text, said: words }) =>
      text.trim() === "" ? [] : [text, ...wrapText(words, width - 4).map((line) => `    ${line}`)],
    ),
    "",
    ...wrapText(`Kept: ${said}. Undo that: undo FILE ${act}`, width),
  ].join("\n")
}
