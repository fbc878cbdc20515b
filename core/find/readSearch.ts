import { factorOf, type FactorId } from "../../shared/factors.ts"
import { listed } from "../../shared/figures.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import type { StintWish, TripWish } from "../store/read/findTrips.ts"
import { readAmountWish } from "./amounts.ts"
import { partSigns } from "./comparison.ts"
import type { AmountOf, SpeciesOf } from "./names.ts"

/** The words that a search may mean: the levels of each factor, fixed or the user's own. */
export type FindVocabulary = readonly {
  readonly factor: FactorId | "species"
  readonly levels: readonly string[]
}[]

/** Phrases with a meaning of their own. */
const phrases: readonly {
  readonly words: string
  readonly said: string
  readonly wish: Partial<TripWish>
}[] = [
  { words: "before sunrise", said: "night or first light before noon", wish: dark(0, 12) },
  { words: "before dawn", said: "night or first light before noon", wish: dark(0, 12) },
  { words: "at dawn", said: "first light", wish: lit("first light") },
  { words: "after sunset", said: "last light or night after noon", wish: dark(12, 24) },
  { words: "at dusk", said: "last light", wish: lit("last light") },
  ...["blank stint", "blank stints", "stint without a fish", "stints without a fish"].map((words) => ({
    words,
    said: "a stint without a fish",
    wish: { blankStint: true },
  })),
  { words: "blank", said: "the trip without a fish", wish: { blank: true } },
  { words: "without a fish", said: "the trip without a fish", wish: { blank: true } },
  { words: "without fish", said: "the trip without a fish", wish: { blank: true } },
  { words: "no fish", said: "the trip without a fish", wish: { blank: true } },
  { words: "with a fish", said: "with a fish", wish: { blank: false } },
  { words: "with fish", said: "with a fish", wish: { blank: false } },
  ...["winter", "spring", "summer", "fall"].map((words, season) => ({
    words,
    said: words,
    wish: {
      stint: [
        {
          anyOf: [
            {
              factor: "month" as const,
              levels: [0, 1, 2].map((n) => String(((season * 3 + n + 11) % 12) + 1)),
            },
          ],
        },
      ],
    },
  })),
  {
    words: "autumn",
    said: "fall",
    wish: { stint: [{ anyOf: [{ factor: "month", levels: ["9", "10", "11"] }] }] },
  },
]

function dark(from: number, to: number): Partial<TripWish> {
  const levels = from === 0 ? ["night", "first light"] : ["last light", "night"]
  return { stint: [{ anyOf: [{ factor: "light", levels }] }], hours: { from, to } }
}

function lit(level: string): Partial<TripWish> {
  return { stint: [{ anyOf: [{ factor: "light", levels: [level] }] }] }
}

const months = "january february march april may june july august september october november december".split(
  " ",
)
/** Words that join others and mean nothing by themselves. */
const joining = new Set("trips trip with in on at the a an and of by from for to when where".split(" "))

/**
 * What a search means: conditions in numbers, phrases and levels of factors, the longest first, all of one stint; what is none
 * of them is looked for in notes and names. Bare numbers are in the reader's units. `said` is the same in words.
 */
export function readSearch(
  text: string,
  vocabulary: FindVocabulary,
  reader: ReaderUnits,
): { wish: TripWish; said: string } {
  const words = partSigns(text.toLowerCase())
    .split(/[\s,;]+/)
    .filter((word) => word !== "")
  const wish: { -readonly [K in keyof TripWish]: TripWish[K] } = {
    stint: [],
    species: [],
    hours: null,
    blank: null,
    blankStint: false,
    counts: [],
    sizes: [],
    words: [],
  }
  const said: string[] = []
  const take = (part: Partial<TripWish>, words_: string): void => {
    wish.stint = [...wish.stint, ...(part.stint ?? [])]
    wish.species = [...wish.species, ...(part.species ?? [])]
    wish.hours = part.hours ?? wish.hours
    wish.blank = part.blank ?? wish.blank
    wish.blankStint = part.blankStint ?? wish.blankStint
    wish.counts = [...wish.counts, ...(part.counts ?? [])]
    wish.sizes = [...wish.sizes, ...(part.sizes ?? [])]
    said.push(words_)
  }
  const species = speciesIn(vocabulary)
  let last: AmountOf | null = null
  for (let at = 0; at < words.length;) {
    const rest = words.slice(at)
    const amount = readAmountWish(rest, species, reader, last)
    const found: Found | null = amount ?? longest(rest, vocabulary)
    const word = words[at] ?? ""
    if (found !== null) take(found.wish, found.said)
    else if (!joining.has(word)) {
      wish.words = [...wish.words, word]
      said.push(`"${word}" in notes or names`)
    }
    last = amount?.of ?? (found === null && joining.has(word) ? last : null)
    at += found?.words ?? 1
  }
  return { wish, said: said.length === 0 ? "every trip" : said.join(", ") }
}

type Found = { readonly words: number; readonly wish: Partial<TripWish>; readonly said: string }
const mostWords = 5

function longest(words: readonly string[], vocabulary: FindVocabulary): Found | null {
  for (let count = Math.min(mostWords, words.length); count > 0; count--) {
    const phrase = words.slice(0, count).join(" ")
    const own = phrases.find((one) => one.words === phrase)
    if (own !== undefined) return { words: count, wish: own.wish, said: own.said }
    if (count === 1 && joining.has(phrase)) return null
    const level = levelsOf(phrase, vocabulary) ?? levelOfNamed(phrase, vocabulary) ?? dateWish(phrase)
    if (level !== null) return { words: count, ...level }
  }
  return null
}

function dateWish(word: string): Omit<Found, "words"> | null {
  const month = months.findIndex((name) => name === word || (word.length === 3 && name.startsWith(word))) + 1
  const anyOf: StintWish["anyOf"] | null =
    month > 0
      ? [{ factor: "month", levels: [String(month)] }]
      : /^(?:19|20)\d\d$/.test(word)
        ? [{ factor: "year", levels: [word] }]
        : null
  return anyOf === null
    ? null
    : { wish: { stint: [{ anyOf }] }, said: month > 0 ? (months[month - 1] ?? word) : word }
}

/** The species that a phrase names, whole or by a word that no other has. */
const speciesIn =
  (vocabulary: FindVocabulary): SpeciesOf =>
  (phrase) => {
    const found = levelsOf(
      phrase,
      vocabulary.filter(({ factor }) => factor === "species"),
    )
    const [name, more] = found?.wish.species ?? []
    return more === undefined ? (name ?? null) : null
  }

/** A factor's label before one of its levels: "visibility stained". */
function levelOfNamed(phrase: string, vocabulary: FindVocabulary): Omit<Found, "words"> | null {
  for (const one of vocabulary) {
    const label = one.factor === "species" ? "species" : factorOf(one.factor).label.toLowerCase()
    if (phrase.startsWith(`${label} `)) return levelsOf(phrase.slice(label.length + 1), [one])
  }
  return null
}

/** Levels that are the phrase, else those that hold it as whole words. */
function levelsOf(phrase: string, vocabulary: FindVocabulary): Omit<Found, "words"> | null {
  const pick = (fits: (level: string) => boolean) =>
    vocabulary.flatMap(({ factor, levels }) => {
      const found = levels.filter((level) => fits(level.toLowerCase()))
      return found.length === 0 ? [] : [{ factor, levels: found }]
    })
  const exact = pick((level) => level === phrase)
  const found =
    exact.length > 0
      ? exact
      : phrase.length < 3
        ? []
        : pick((level) => level.split(/[\s,]+/).includes(phrase))
  const fish = found.find(({ factor }) => factor === "species")
  const [name] = fish?.levels ?? []
  if (name !== undefined && fish?.levels.length === 1)
    return { wish: { species: [name] }, said: `${name} landed` }
  const anyOf = found.flatMap(({ factor, levels }) => (factor === "species" ? [] : [{ factor, levels }]))
  if (anyOf.length === 0) return null
  const said = anyOf.map(
    ({ factor, levels }) =>
      `${factorOf(factor).label.toLowerCase()} ${listed(levels, 4).replace(/ and (?=[^,]*$)/, " or ")}`,
  )
  return { wish: { stint: [{ anyOf }] }, said: said.join(" or ") }
}
