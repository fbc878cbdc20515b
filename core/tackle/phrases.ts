import type { SomeParts, TacklePart } from "../../shared/tackle.ts"
import * as word from "../../shared/vocabulary.ts"

/** Words that say some of a presentation's parts. */
export type Phrase = { readonly words: string; readonly says: SomeParts }

/** Parts whose words the user makes. */
export const ownWords = [
  "lure_class",
  "retrieve_style",
  "profile",
  "imitates",
  "lure_sound",
  "cork_shape",
  "cork_sound",
] as const satisfies readonly TacklePart[]
export type OwnWordPart = (typeof ownWords)[number]

/** A word that is said in front of another, to tell which part it is: `profile grub`. */
export const partLabels: ReadonlyMap<string, OwnWordPart | "lure"> = new Map([
  ["class", "lure_class"],
  ["lure", "lure"],
  ["profile", "profile"],
  ["imitates", "imitates"],
  ["sound", "lure_sound"],
  ["retrieve", "retrieve_style"],
  ["cork", "cork_shape"],
  ["cork sound", "cork_sound"],
])

/** The trade's own words, offered before the logbook has any; common practice, no source. */
export const tradeWords: Readonly<Record<OwnWordPart, readonly string[]>> = {
  lure_class: [
    "soft plastic on a jig head",
    "popping-cork rig",
    "suspending twitch bait",
    "slow-sinking twitch bait",
    "topwater walker",
    "topwater popper",
    "prop topwater",
    "spoon",
  ],
  retrieve_style: [
    "bottom bounce",
    "mid-column hop",
    "pop and pause",
    "twitch and pause",
    "walk the dog",
    "steady",
    "dead-stick",
  ],
  profile: ["paddle tail", "jerk shad", "curl tail", "shrimp", "minnow", "cigar", "stick", "crab"],
  imitates: ["mullet", "menhaden", "mud minnow"],
  lure_sound: ["rattle", "knock", "blade", "silent"],
  cork_shape: ["oval", "cupped", "weighted"],
  cork_sound: ["click", "pop"],
}

const each = <P extends TacklePart>(
  part: P,
  words: readonly string[],
  says: (word: string) => readonly string[],
): Phrase[] => words.flatMap((one) => says(one).map((phrase) => ({ words: phrase, says: { [part]: one } })))

/** What the fixed words may be written as. */
export const fixedPhrases: readonly Phrase[] = [
  ...each("colour", word.colours, (one) => [one, `${one} tone`]),
  ...each("hook_shank", word.hookShanks, (one) => [`${one} shank`]),
  ...each("hook_style", word.hookStyles, (one) =>
    one === "open" || one === "single" ? [`${one} hook`] : [one, `${one} hook`],
  ),
  ...each("pace", word.paces, (one) => [one, `${one} pace`]),
  ...each("rhythm", word.rhythms, (one) => (one === "broken" ? [one, "broken rhythm"] : ["steady rhythm"])),
  ...each("line", word.lines, (one) => (one === "tight" ? ["tight", "tight line"] : [one, `${one} line`])),
  ...each("water_column", word.waterColumns, (one) => [one]),
  { words: "just off the bottom", says: { water_column: "just off bottom" } },
  { words: "on the bottom", says: { water_column: "on bottom" } },
  ...each("bait", word.baits, (one) => (one === "none" ? ["no bait"] : [one, `${one} bait`])),
  ...each("sink", word.sinks, (one) =>
    one === "slow" || one === "fast"
      ? [`${one} sink`, `${one} sinking`, `sinks ${one}`]
      : [one, one === "floats" ? "floating" : "suspending"],
  ),
  { words: "scented", says: { scented: "yes" } },
  { words: "unscented", says: { scented: "no" } },
]
