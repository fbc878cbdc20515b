import fc from "fast-check"
import { expect, test } from "vitest"
import { readLine, type KnownTackle } from "../../../core/tackle/readLine.ts"
import { tradeWords } from "../../../core/tackle/phrases.ts"
import { sayTackle } from "../../../core/tackle/sayTackle.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { noParts } from "../../../shared/tackle.ts"

const known: KnownTackle = { words: tradeWords, lures: [], coded: new Map() }
const read = (line: string, with_: KnownTackle = known) => readLine(line, with_, presets.us)
const unclear = (line: string) =>
  read(line).tokens.flatMap(({ text, unclear: why }) => (why === null ? [] : [{ text, ...why }]))

test("a line is read from its parts and said back in words", () => {
  const { tokens, parts } = read("soft plastic, 1/4 oz, short shank, hop, dark")
  expect(tokens.every((token) => token.unclear === null)).toBe(true)
  // 1 oz = 28.349523125 g: NIST SP 811 (2008), Appendix B.8; kept to a thousandth of a gram.
  expect(parts).toEqual({
    ...noParts,
    lure_class: "soft plastic on a jig head",
    head_weight_g: 7.087,
    hook_shank: "short",
    retrieve_style: "mid-column hop",
    colour: "dark",
  })
  expect(sayTackle(parts, presets.us)).toBe(
    "soft plastic on a jig head, dark; 1/4 oz head, short shank; mid-column hop",
  )
  expect(sayTackle(parts, presets.metric)).toContain("7.1 g head")
})

test.each(["2 s", "2 s pause", "pause 2 s", "2-second pauses"])("a pause is read as written: %s", (text) => {
  const { tokens, parts } = read(`hop, ${text}`)
  expect(tokens.every((token) => token.unclear === null)).toBe(true)
  expect(parts).toEqual({ ...noParts, retrieve_style: "mid-column hop", pause_s: 2 })
})

test("parts may come in any order, with commas or without", () => {
  const words = ["soft plastic", "1/4 oz", "short shank", "bounce", "dark", "2x3", "paddle tail", "3.5 in"]
  const { parts } = read(words.join(", "))
  fc.assert(
    fc.property(
      fc.shuffledSubarray(words, { minLength: words.length }),
      fc.constantFrom(", ", " "),
      (order, between) => {
        expect(read(order.join(between)).parts).toEqual(parts)
      },
    ),
  )
})

test("weights are read as the trade writes them and in grams", () => {
  const weight = (text: string) => read(text).parts.head_weight_g
  // 28.349523125 g an ounce (NIST SP 811, Appendix B.8)
  for (const [text, ounces] of [
    ["1/8 oz", 1 / 8],
    ["3/8", 3 / 8],
    ["1 1/2 oz", 1.5],
    ["0.25oz", 0.25],
  ] as const)
    expect(weight(text)).toBeCloseTo(ounces * 28.349523125, 3)
  expect(weight("7 g")).toBe(7)
  expect(unclear("0 oz")).toHaveLength(1)
})

test("amounts are told apart by unit and noun", () => {
  expect(read("18 in drop, 24 in leader, 20 lb, 4 in, 3 s pause").parts).toEqual({
    ...noParts,
    cork_drop_mm: 457.2,
    leader_length_mm: 609.6,
    leader_strength_n: 88.964,
    lure_length_mm: 101.6,
    pause_s: 3,
  })
})

test("what fits more than one thing, or nothing, says what it may be", () => {
  expect(unclear("topwater, dark")).toEqual([
    {
      text: "topwater",
      sentence: "topwater may be more than one thing.",
      choices: ["topwater walker", "topwater popper", "prop topwater"],
    },
  ])
  const [grub] = unclear("dark, grub")
  expect(grub?.text).toBe("grub")
  expect(grub?.choices).toContain("profile grub")
  expect(read("dark, profile grub").parts).toEqual({ ...noParts, colour: "dark", profile: "grub" })
})

test("each choice of an unclear token is clear", () => {
  for (const line of ["topwater", "grub", "twitch"])
    for (const token of unclear(line))
      for (const choice of token.choices) expect(unclear(choice), choice).toEqual([])
})

test("a code begins a line that changes that presentation", () => {
  const pt = read("soft plastic, 1/8 oz, hop, natural").parts
  const { tokens, parts } = read("pt, dark", { ...known, coded: new Map([["pt", pt]]) })
  expect(parts).toEqual({ ...pt, colour: "dark" })
  expect(tokens[0]?.said).toBe("as pt")
})

test("a lure is found by its own name", () => {
  const parts = { ...noParts, lure_class: "topwater walker", lure: "walker, light", colour: "light" as const }
  const found = read("walker light, steady", { ...known, lures: [{ name: "walker, light", parts }] })
  expect(found.parts).toEqual({ ...parts, retrieve_style: "steady" })
})

test("no line is lost or misplaced: tokens lie in order, in what was typed", () => {
  fc.assert(
    fc.property(fc.string({ unit: "grapheme", maxLength: 80 }), (line) => {
      let at = 0
      for (const token of read(line).tokens) {
        expect(token.from).toBeGreaterThanOrEqual(at)
        expect(line.slice(token.from, token.to)).toBe(token.text)
        expect((token.said === null) !== (token.unclear === null)).toBe(true)
        at = token.to
      }
    }),
  )
})
