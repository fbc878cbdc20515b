import { expect, test } from "vitest"
import { viewOf } from "../../../renderer/charts/view.ts"
import { dayStrip } from "../../../renderer/charts/dayStrip.ts"
import type { Ink } from "../../../renderer/charts/figure.ts"
import type { StripView } from "../../../renderer/charts/stripDrawing.ts"
import { presets } from "../../../shared/readerUnits.ts"
import type { DayStrip } from "../../../shared/trips.ts"

const hour = 3_600_000
/** 6:00 in Georgia (US), four hours behind UTC in summer. */
const dawn = Date.UTC(2026, 9, 17, 10)
const ink: Ink = {
  ink: "#000001",
  soft: "#000002",
  rule: "#000003",
  paper: "#000004",
  sea: "#000005",
  night: "#000006",
  dusk: "#000007",
  classes: ["#0000a1", "#0000a2", "#0000a3"],
  size: 16,
}
const stint = (
  id: string,
  from: number,
  to: number,
  lane: number,
  lure_class: string | null,
): DayStrip["stints"][number] => ({
  id,
  from: dawn + from * hour,
  to: dawn + to * hour,
  lane,
  lure_class,
  presentation: null,
  spot: null,
  landed: null,
})
const day: DayStrip = {
  zone: "America/New_York",
  date: "2026-10-17",
  from: dawn,
  to: dawn + 12 * hour,
  light: [
    { from: dawn, to: dawn + hour / 2, word: "first light" },
    { from: dawn + hour / 2, to: dawn + 12 * hour, word: "day" },
  ],
  tide: {
    station: "Old Tower",
    interpolated: false,
    points: [
      { at: dawn, height_m: 1 },
      { at: dawn + 4 * hour, height_m: 2 },
      { at: dawn + 10 * hour, height_m: 0.2 },
      { at: dawn + 12 * hour, height_m: 0.5 },
    ],
    waters: [
      { kind: "high", at: dawn + 4 * hour, height_m: 2 },
      { kind: "low", at: dawn + 10 * hour, height_m: 0.2 },
    ],
  },
  stints: [stint("a", 1, 3, 0, "spoon"), stint("b", 2, 4, 1, "cork"), stint("c", 5, 5.1, 0, null)],
  stops: [
    { from: dawn + hour, to: dawn + 4 * hour, spot: "Mill Drain" },
    { from: dawn + 5 * hour, to: dawn + 5.1 * hour, spot: "Long Rake" },
  ],
  fish: [
    { at: dawn + 1.5 * hour, known: true, stint: "a", species: "red drum" },
    { at: dawn + 3 * hour, known: false, stint: "b", species: null },
  ],
  said: "The day in words.",
}
const view: StripView = {
  size: "page",
  width: 600,
  classes: ["cork", "spoon"],
  units: presets.metric,
  ink,
  now: null,
}

/** What stands in the picture: rectangles, symbols and words with their places, in pixels. */
async function drawn(strip: DayStrip, how: Partial<StripView> = {}) {
  const svg = await viewOf(dayStrip(strip, { ...view, ...how })).toSVG()
  const all = (pattern: RegExp) => [...svg.matchAll(pattern)].map(({ groups = {} }) => groups)
  return {
    svg,
    height: Number(/ height="([\d.]+)"/.exec(svg)?.[1]),
    rects: all(
      /<path d="M(?<x>[\d.]+),(?<y>[\d.]+)h(?<width>[\d.]+)v(?<height>[\d.]+)h[^"]*"(?: fill="(?<fill>[^"]+)")?(?: stroke="(?<stroke>[^"]+)")?/g,
    ).map(({ x, y, width, height, fill = "none", stroke }) => ({
      x: Number(x),
      y: Number(y),
      width: Number(width),
      height: Number(height),
      fill,
      stroke,
    })),
    symbols: all(
      /<path transform="translate\((?<x>[\d.]+),(?<y>[\d.]+)\)" d="M0[^"]*" fill="(?<fill>[^"]+)"/g,
    ).map(({ x, y, fill }) => ({ x: Number(x), y: Number(y), fill })),
    words: all(/<text[^>]*translate\((?<x>[\d.]+),(?<y>[\d.]+)\)[^>]*>(?<text>[^<]*)</g).map(
      ({ x, y, text = "" }) => ({ x: Number(x), y: Number(y), text }),
    ),
  }
}

const barsIn = ({ rects }: Awaited<ReturnType<typeof drawn>>) =>
  rects.filter(({ stroke }) => stroke !== undefined)

test("stints stand where their clock says, coloured by their class's place in the logbook", async () => {
  const bars = barsIn(await drawn(day))
  // 600 pixels are 12 hours: 50 pixels an hour.
  expect(bars.map(({ x, width }) => [x, width])).toEqual([
    [50, 100],
    [100, 100],
    [250, expect.closeTo(5, 6)], // only rounding is left
  ])
  expect(bars.map(({ fill }) => fill)).toEqual([ink.classes[1], ink.classes[0], "none"])
  const alone = barsIn(await drawn({ ...day, stints: day.stints.slice(0, 1), fish: [] }))
  expect(alone[0]?.fill).toBe(ink.classes[1])
})

test("stints that overlap lie below one another, in every size", async () => {
  for (const size of ["row", "page"] as const) {
    const [first, second] = barsIn(await drawn(day, { size }))
    expect(second?.y).toBeGreaterThanOrEqual((first?.y ?? Infinity) + (first?.height ?? 0))
  }
})

test("a class beyond the last colour is an outline in the first one again, and no class a plain outline", async () => {
  const classes = ["a", "b", "c", "cork", "spoon"]
  const bars = barsIn(await drawn(day, { classes }))
  expect(bars.map(({ fill }) => fill)).toEqual(["none", "none", "none"])
  expect(bars.map(({ stroke }) => stroke)).toEqual([ink.classes[1], ink.classes[0], ink.soft])
})

test("bars are numbered as the table numbers them, where there is room", async () => {
  const { words } = await drawn(day)
  expect(words.filter(({ text }) => /^\d$/.test(text)).map(({ text }) => text)).toEqual(["1", "2"])
  const { table } = dayStrip(day, view)
  expect(table.rows.map(([, , what]) => what).filter((what) => what?.startsWith("stint"))).toEqual([
    "stint 1, spoon, not counted",
    "stint 2, cork, not counted",
    "stint 3, not counted",
  ])
})

test("a fish stands over its stint's bar, filled at its own time and open where only the stint is known", async () => {
  const picture = await drawn(day)
  const [first, second] = barsIn(picture)
  expect(picture.symbols.map(({ x, fill }) => [x, fill])).toEqual([
    [75, ink.ink],
    [150, ink.paper],
  ])
  expect(picture.symbols[0]?.y).toBeLessThan(first?.y ?? 0)
  expect(picture.symbols[1]?.y).toBeLessThan(second?.y ?? 0)
  expect(picture.symbols[1]?.y).toBeGreaterThan((first?.y ?? 0) + (first?.height ?? 0))
})

test("high and low water have their time and their height in the reader's unit", async () => {
  const metric = (await drawn(day)).words.map(({ text }) => text)
  expect(metric).toContainEqual(expect.stringMatching(/^high 10:00(\sAM)?, 2\.0 m$/))
  // A foot is 0.3048 m exactly: NIST SP 811 (2008), Appendix B.8. 2 m are 6.56 ft, 0.2 m are 0.66 ft.
  const us = (await drawn(day, { units: presets.us })).words.map(({ text }) => text)
  expect(us).toContainEqual(expect.stringMatching(/, 6\.6 ft$/))
  expect(us).toContainEqual(expect.stringMatching(/^low (4:00\sPM|16:00), 0\.7 ft$/))
})

test("the words of the waters and the curve keep apart: over a high one, under a low one", async () => {
  const { words, svg } = await drawn(day)
  const curve = /<path d="M([^"]+)" stroke="#000005"/.exec(svg)?.[1] ?? ""
  const heights = curve.split(/[MLC]/).map((point) => Number(point.split(",").at(-1)))
  const of = (kind: string) => words.find(({ text }) => text.startsWith(kind))?.y
  expect(of("high")).toBeLessThan(Math.min(...heights))
  expect(of("low")).toBeGreaterThan(Math.max(...heights))
})

test("the shade of twilight covers its time; the day is paper", async () => {
  const { rects } = await drawn(day)
  expect(rects.filter(({ stroke }) => stroke === undefined)).toMatchObject([
    { x: 0, width: 25, fill: ink.dusk },
  ])
})

test("now is a line within the day, in the place of an hour, and nothing outside it", async () => {
  const noon = { now: dawn + 6 * hour }
  const inside = await drawn(day, noon)
  expect(inside.words.find(({ text }) => text === "now")?.x).toBe(300)
  expect(inside.svg).toContain(`translate(300,0)`)
  expect(inside.words.filter(({ text }) => /^12|^noon/.test(text))).toEqual([])
  for (const now of [dawn - 1, dawn + 12 * hour + 1]) {
    const outside = await drawn(day, { now })
    expect(outside.words.map(({ text }) => text)).not.toContain("now")
  }
  expect((await drawn(day, { ...noon, size: "row" })).svg).toContain(`translate(300,0)`)
})

test("a row is some 28 pixels high, without a word, however many lanes; a page grows with them", async () => {
  const more = { ...day, stints: [...day.stints, stint("d", 2, 3, 2, "cork"), stint("e", 2, 3, 3, "cork")] }
  for (const strip of [day, more]) {
    const row = await drawn(strip, { size: "row", width: 208 })
    expect(row.height).toBeCloseTo(28.2, 6) // 2.35 of 12 pixels; only rounding is left
    expect(row.words).toEqual([])
    for (const { y, height } of row.rects) expect(y + height).toBeLessThanOrEqual(row.height + 1e-9)
  }
  expect((await drawn(more)).height).toBeGreaterThan((await drawn(day)).height)
})

test("a plan has tide, light and hours, and no stints yet", async () => {
  const plan = await drawn(day, { size: "plan" })
  expect(barsIn(plan)).toEqual([])
  expect(plan.symbols).toEqual([])
  expect(plan.words.map(({ text }) => text)).toEqual(
    expect.arrayContaining([expect.stringMatching(/^high/), "first light"]),
  )
  expect(plan.height).toBeGreaterThan((await drawn(day)).height)
})

test("spots stand under their stops, hours below them, and no two hours run together on a narrow page", async () => {
  const wide = await drawn(day)
  expect(wide.words.filter(({ text }) => /Drain|Rake/.test(text)).map(({ x }) => x)).toEqual([50, 250])
  for (const width of [320, 600, 1100]) {
    const { words } = await drawn(day, { width })
    const hours = words.filter(({ y }) => y > (words.find(({ text }) => /Drain/.test(text))?.y ?? 0))
    expect(hours.length).toBeGreaterThan(2)
    const gaps = hours.slice(1).map(({ x }, i) => x - (hours[i]?.x ?? 0))
    expect(Math.min(...gaps)).toBeGreaterThan(3.5 * 11)
  }
})

test("a day without a tide station, light or stints is still a picture", async () => {
  const bare = { ...day, tide: null, light: [], stints: [], stops: [], fish: [] }
  for (const size of ["row", "page", "plan"] as const) {
    const picture = await drawn(bare, { size })
    expect(picture.svg).not.toContain(ink.sea)
    expect(barsIn(picture)).toEqual([])
  }
})

test("the picture is told in the core's words, and its day as a table", () => {
  const figure = dayStrip(day, view)
  expect(figure.said).toBe(day.said)
  expect(figure.title).toMatch(/^Day strip, Saturday/)
  expect(figure.table.rows.map(([, , what]) => what).slice(0, 4)).toEqual([
    "first light",
    "day",
    "high water, 2.00 m",
    "low water, 0.20 m",
  ])
})
