import type { ReaderUnits } from "../../shared/readerUnits.ts"
import {
  noParts,
  SomeParts,
  tackleParts,
  withParts,
  type LineToken,
  type TackleParts,
} from "../../shared/tackle.ts"
import { readAmount } from "./amounts.ts"
import { fixedPhrases, ownWords, partLabels, type OwnWordPart, type Phrase } from "./phrases.ts"
import { sayPart } from "./sayTackle.ts"

/** What a logbook adds to the words that a line is read by. */
export type KnownTackle = {
  /** The words of the user's own lists, the trade's where he has none. */
  readonly words: Readonly<Record<OwnWordPart, readonly string[]>>
  /** Lures that have a name of their own, with their parts. */
  readonly lures: readonly { readonly name: string; readonly parts: TackleParts }[]
  /** Presentations by their code: a line may begin from one. */
  readonly coded: ReadonlyMap<string, TackleParts>
}

/** A line as it was read: its tokens in order, and the parts of those that are clear. */
export type LineRead = { readonly tokens: readonly LineToken[]; readonly parts: TackleParts }

type Word = { readonly text: string; readonly from: number; readonly to: number }
const longestPhrase = 7

/**
 * Reads a presentation from one line: parts in any order, between commas or spaces. `pt, dark` is the presentation of code pt
 * with another tone. Words that fit nothing, or more than one thing, come back as unclear tokens with what they may be.
 */
export function readLine(line: string, known: KnownTackle, reader: ReaderUnits): LineRead {
  const phrases = phrasesOf(known)
  const tokens: LineToken[] = []
  let parts: TackleParts = noParts
  const take = (words: readonly Word[], says: SomeParts, said: string | null = null): void => {
    parts = withParts(parts, says)
    tokens.push(token(line, words, said ?? sayAll(says, reader), null))
  }
  for (const piece of piecesOf(line)) {
    let rest = piece
    while (rest.length > 0) {
      const copied = tokens.length === 0 ? known.coded.get(rest[0]?.text.toLowerCase() ?? "") : undefined
      if (copied !== undefined) {
        take(rest.slice(0, 1), copied, `as ${rest[0]?.text.toLowerCase() ?? ""}`)
        rest = rest.slice(1)
        continue
      }
      const found =
        labelled(rest, known) ?? longest(rest, (text) => exactly(text, phrases)) ?? fuzzily(rest, phrases)
      if (found === null) {
        tokens.push(token(line, rest, null, { sentence: unknown(rest), choices: choicesFor(rest) }))
        break
      }
      const words = rest.slice(0, found.count)
      if (found.fits.length === 1 && found.fits[0] !== undefined) take(words, found.fits[0].says)
      else {
        const choices = [...new Set(found.fits.map(({ words: choice }) => choice.replaceAll(",", "")))]
        tokens.push(
          token(line, words, null, { sentence: `${spell(words)} may be more than one thing.`, choices }),
        )
      }
      rest = rest.slice(found.count)
    }
  }
  return { tokens, parts }
}

type Found = { readonly count: number; readonly fits: readonly Phrase[] }

const token = (
  line: string,
  words: readonly Word[],
  said: string | null,
  unclear: LineToken["unclear"],
): LineToken => {
  const from = words[0]?.from ?? 0
  const to = words.at(-1)?.to ?? from
  return { from, to, text: line.slice(from, to), said, unclear }
}

const spell = (words: readonly Word[]): string => words.map(({ text }) => text).join(" ")
const unknown = (words: readonly Word[]): string =>
  `${spell(words)} is not known. Say what it is, or take it out.`
const choicesFor = (words: readonly Word[]): string[] =>
  [...partLabels.keys()].map((label) => `${label} ${spell(words)}`)

const piecesOf = (line: string): Word[][] =>
  [...line.matchAll(/[^,;]+/g)]
    .map((piece) =>
      [...piece[0].matchAll(/\S+/g)].map(({ 0: text, index }) => ({
        text,
        from: piece.index + index,
        to: piece.index + index + text.length,
      })),
    )
    .filter((words) => words.length > 0)

const plain = (text: string): string =>
  text
    .toLowerCase()
    .replaceAll(/[-,\s]+/g, " ")
    .trim()

/** Phrases by how readily they are taken: words of a kind before lures by name. */
type Phrases = { readonly ofKinds: readonly Phrase[]; readonly ofLures: readonly Phrase[] }

const phrasesOf = ({ words, lures }: KnownTackle): Phrases => ({
  ofKinds: [
    ...fixedPhrases,
    ...ownWords.flatMap((part) =>
      words[part].map((word): Phrase => ({ words: word, says: { [part]: word } })),
    ),
  ],
  ofLures: lures.map(({ name, parts }): Phrase => ({ words: name, says: lureOnly(parts) })),
})

const lureOnly = (parts: TackleParts): SomeParts =>
  SomeParts.parse(Object.fromEntries(Object.entries(parts).filter(([, value]) => value !== null)))

/** The longest beginning that `fits` knows. */
function longest(rest: readonly Word[], fits: (text: string) => readonly Phrase[]): Found | null {
  for (let count = Math.min(longestPhrase, rest.length); count > 0; count--) {
    const found = fits(spell(rest.slice(0, count)))
    if (found.length > 0) return { count, fits: found }
  }
  return null
}

/** What a text says as it stands: an amount, or a phrase; a word of two kinds is of the first. */
function exactly(text: string, { ofKinds, ofLures }: Phrases): readonly Phrase[] {
  const amount = readAmount(text.toLowerCase())
  if (amount !== null) return [{ words: text, says: amount }]
  const same = ({ words }: Phrase) => plain(words) === plain(text)
  const found = ofLures.find(same) ?? ofKinds.find(same)
  return found === undefined ? [] : [found]
}

const differing = (found: readonly Phrase[]): Phrase[] =>
  found.filter(
    ({ says }, i) => found.findIndex((other) => JSON.stringify(other.says) === JSON.stringify(says)) === i,
  )

const leastLetters = 3

/** What a text may stand for: phrases that have a word beginning with each of its words. */
function fuzzily(rest: readonly Word[], { ofKinds, ofLures }: Phrases): Found | null {
  const near = (text: string, among: readonly Phrase[]): readonly Phrase[] => {
    const typed = plain(text).split(" ")
    if (typed.some((word) => word.length < leastLetters)) return []
    return differing(
      among.filter(({ words }) => {
        const has = plain(words).split(" ")
        return typed.every((word) => has.some((one) => one.startsWith(word) || word === `${one}s`))
      }),
    )
  }
  return longest(rest, (text) => {
    const kinds = near(text, ofKinds)
    return kinds.length > 0 ? kinds : near(text, ofLures)
  })
}

/** `profile grub`: a word of the user's own, said to be a part; it goes on to the next comma. */
function labelled(rest: readonly Word[], { words }: KnownTackle): Found | null {
  for (const count of [2, 1]) {
    const part = partLabels.get(spell(rest.slice(0, count)).toLowerCase())
    if (part === undefined || rest.length <= count) continue
    const typed = spell(rest.slice(count))
    // "cork, oval": the shape stands alone, and "lure" or "cork" before a known phrase of another kind is that phrase.
    const kept = part === "lure" ? undefined : words[part].find((word) => plain(word) === plain(typed))
    return { count: rest.length, fits: [{ words: typed, says: { [part]: kept ?? typed } }] }
  }
  return null
}

const sayAll = (says: SomeParts, reader: ReaderUnits): string =>
  tackleParts
    .flatMap((part) => {
      const value = says[part]
      return value === null || value === undefined ? [] : [sayPart(part, value, reader)]
    })
    .join(", ")
