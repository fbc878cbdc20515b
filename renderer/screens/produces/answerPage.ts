import type { Answer } from "../../../shared/answer.ts"

type Table = { readonly head: readonly string[]; readonly rows: readonly (readonly string[])[] }

/** Text as it may stand in a page: nothing of it is taken for a tag. */
const escaped = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;")

const element = (tag: string, text: string): string => `<${tag}>${escaped(text)}</${tag}>`
const row = (tag: string, cells: readonly string[]): string =>
  `<tr>${cells.map((cell) => element(tag, cell)).join("")}</tr>`

/** An answer as a page of its own, without script and without anything to be fetched: what it says, its chart (SVG as the page
 *  drew it), its numbers, each basis, what could fool one, and the day on which it was told. */
export function answerPage(answer: Answer, { head, rows }: Table, svg: string, day: string): string {
  const { sentence, ratios_of, standings, cautions, held, data, outcome, by } = answer
  const title = `${outcome.replaceAll("_", " ")} by ${by.replaceAll("_", " ")}`
  const used =
    held === null || held.used.length === 0
      ? []
      : [`Held alike: ${held.used.map(({ name }) => name).join(", ")}.`]
  return [
    "<!doctype html>",
    '<html lang="en"><head><meta charset="utf-8">',
    element("title", title),
    "<style>body{font:16px/1.5 sans-serif;max-width:50rem;margin:2rem auto;padding:0 1rem}td,th{text-align:left;padding:.2rem .8rem .2rem 0}</style>",
    "</head><body>",
    element(
      "p",
      `Told on ${day} from ${data.trips} trips, ${data.stints} stints and ${Math.round(data.rod_hours)} rod-hours.`,
    ),
    element("h1", sentence),
    svg,
    `<table>${row("th", head)}${rows.map((cells) => row("td", cells)).join("")}</table>`,
    element("h2", "Side by side"),
    ...(ratios_of === null ? [] : [element("p", `The ratios are of ${ratios_of}.`)]),
    ...standings.map(({ text }) => element("p", text)),
    ...used.map((text) => element("p", text)),
    element("h2", "What could fool you"),
    ...cautions.map(({ text }) => element("p", text)),
    "</body></html>",
  ].join("\n")
}
