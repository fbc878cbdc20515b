import type { Coded } from "../../../shared/codes.ts"
import { fishColumns, type FishColumn, type FishList } from "../../../shared/fishList.ts"
import { fates, tookOn } from "../../../shared/vocabulary.ts"
import type { GridChoice, GridColumn } from "../../parts/grid/types.ts"
import { codesFor } from "./choices.ts"

const heads: Record<FishColumn, { readonly label: string; readonly help: string }> = {
  at: {
    label: "Time",
    help: "645, 6:45a. The fish goes to the stint its time falls in. Left empty, not known.",
  },
  stint: { label: "Stint", help: "A stint's number, or its presentation's code where only one has it." },
  fate: {
    label: "Fate",
    help: "d landed, m missed, l lost, b bitten off; s struck, h hooked, n not landed.",
  },
  species: { label: "Species", help: "A code or the first letters of its name. Left empty, not known." },
  length: { label: "Length", help: "24, 22.5, or with its unit: 61cm. Of landed fish." },
  weight: { label: "Weight", help: "As measured: 2.5, or with its unit: 40oz. An estimate is marked est." },
  took: { label: "Took on", help: "f fall, p pause, m move." },
  where: { label: "Hooked where", help: "In your own words: lip, corner, gill." },
  kept: { label: "Kept", help: "k kept, r released. Left empty, not known." },
}

/** The columns of a trip's list of strikes. */
export function fishColumnsFor(codes: readonly Coded[], stints: FishList["stints"]): GridColumn[] {
  const choices: Partial<Record<FishColumn, (typed: string) => readonly GridChoice[]>> = {
    stint: (typed) => stintsFor(typed, stints),
    fate: (typed) => wordsFor(typed, fates),
    species: (typed) => codesFor(typed, "species", codes),
    took: (typed) => wordsFor(typed, tookOn),
    kept: (typed) => wordsFor(typed, ["kept", "released"]),
  }
  return fishColumns.map((id) => {
    const choicesOf = choices[id]
    const column = { id, ...heads[id], numeric: id === "length" || id === "weight" }
    return choicesOf === undefined ? column : { ...column, choices: choicesOf }
  })
}

/** Words that a text of more than one letter begins; one letter may be a word's own. */
const wordsFor = (typed: string, words: readonly string[]): GridChoice[] => {
  const begun = typed.trim().toLowerCase()
  return begun.length < 2
    ? []
    : words.filter((word) => word.startsWith(begun)).map((word) => ({ text: word, said: "" }))
}

function stintsFor(typed: string, stints: FishList["stints"]): GridChoice[] {
  const begun = typed.trim().toLowerCase()
  const words = (text: string): string[] => text.toLowerCase().split(/[\s,]+/)
  return begun === ""
    ? []
    : stints.filter(
        ({ text, said }) =>
          words(text).some((word) => word.startsWith(begun)) ||
          (begun.length > 1 && words(said).some((word) => word.startsWith(begun))),
      )
}
