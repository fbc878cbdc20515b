import { along, down, written, type Drawing, type Layer, type Written } from "./stripDrawing.ts"

/** Light in words, spots under their stops, and the hours of the trip's zone. */
export function wordLayers(drawing: Drawing): Layer[] {
  const { strip, ink, at, em, px, clock, width, now } = drawing
  if (!at.words) return []
  const step =
    [1, 2, 3, 4, 6, 12].find((hours) => (width / (strip.to - strip.from)) * hours * 3_600_000 > 3.6 * em) ??
    12
  const hidden = (instant: number) => now !== null && Math.abs(px(instant) - px(now)) < 3 * em
  const hours = clock
    .hours(strip.from, strip.to)
    .filter(({ at: instant, hour }) => hour % step === 0 && !hidden(instant))
    .filter(({ at: instant }) => px(instant) > 1.5 * em && px(instant) < width - 1.5 * em)
    .map(({ at: instant }) => ({ at: instant, y: at.hours, text: clock.hour(instant) }))
  return [
    written(drawing, lightWords(drawing)),
    ...(at.lane === null ? [] : [written(drawing, spotNames(drawing))]),
    {
      data: {
        values: hours.map((hour) => ({ ...hour, top: at.hours - 1.1 * em, bottom: at.hours - 0.75 * em })),
      },
      mark: { type: "rule", color: ink.rule, aria: false },
      encoding: { x: along("at"), y: down("top"), y2: { field: "bottom" } },
    },
    written(
      drawing,
      hours.map((hour) => ({ ...hour, align: "center", limit: 4 * em })),
    ),
  ]
}

/** The width that a word of so many letters takes at most, in pixels. */
const roomFor = (text: string, em: number): number => text.length * 0.62 * em

/** Twilight named where it does not run into another name, night where it holds its own; the day needs no name. */
function lightWords({ strip, at, em, px, width }: Drawing): Written[] {
  let free = 0
  return strip.light.flatMap(({ from, to, word }): Written[] => {
    const room = roomFor(word, em)
    if (word === "day" || (word === "night" && px(to) - px(from) < room)) return []
    const atEnd = px(from) + room > width
    const left = atEnd ? px(to) - room : px(from)
    if (left < free - 1) return []
    free = left + room + 0.5 * em
    return [
      { at: atEnd ? to : from, y: at.light, text: word, align: atEnd ? "right" : "left", limit: room * 1.5 },
    ]
  })
}

/** A stop's spot under its start, cut where the next one begins; the same spot again is not named again. */
function spotNames({ strip, at, em, px, width }: Drawing): Written[] {
  const stops = strip.stops
    .toSorted((a, b) => a.from - b.from)
    .filter(({ spot }, i, all) => spot !== all[i - 1]?.spot)
  return stops.flatMap(({ from, spot }, i) => {
    const next = stops[i + 1]
    const limit = (next === undefined ? width : px(next.from)) - px(from) - 0.5 * em
    return limit < 2 * em ? [] : [{ at: from, y: at.names, text: spot, align: "left", limit }]
  })
}

/** Now, where it falls within the day. */
export function presentLayers(drawing: Drawing): Layer[] {
  const { strip, ink, at, em, now } = drawing
  if (now === null || now < strip.from || now > strip.to) return []
  const line: Layer = {
    data: { values: [{ at: now, top: 0, bottom: at.words ? at.hours - 0.8 * em : at.height }] },
    mark: { type: "rule", color: ink.ink, strokeWidth: 1.25, aria: false },
    encoding: { x: along("at"), y: down("top"), y2: { field: "bottom" } },
  }
  if (!at.words) return [line]
  return [line, written(drawing, [{ at: now, y: at.hours, text: "now", align: "center", limit: 4 * em }])]
}
