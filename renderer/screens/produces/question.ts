import type { Output } from "../../../shared/api.ts"
import { factorIds, factorOf, isFactorId, type FactorId } from "../../../shared/factors.ts"
import { levelNames } from "../../../shared/figures.ts"
import { bases, outcomes, type Ask, type Basis, type Outcome } from "../../../shared/questions.ts"
import type { ReaderUnits } from "../../../shared/readerUnits.ts"
import type { Section } from "../../parts/Choice.tsx"

/** What is asked, as the page keeps it: one word each of the sentence. Empty words mean all. */
export type Question = {
  readonly kind: Ask["question"]
  readonly outcome: Outcome
  readonly species: string
  readonly by: FactorId | "all"
  readonly factor: FactorId | ""
  readonly level: string
  /** What it may depend on; empty for nothing. */
  readonly depends: FactorId | ""
  /** Empty for the fairest. */
  readonly basis: Basis | ""
  /** What to hold alike, joined by commas: empty for the usual, "none" for nothing. */
  readonly given: string
  /** The difference worth having: empty for the usual, else how many times as much. */
  readonly worth: string
}

/** Changes the question: tells what of it becomes something else, null where nothing does. */
export type Edit = (change: (before: Question) => Partial<Question> | null) => void

export const firstQuestion: Question = {
  kind: "compare",
  outcome: "landed_rate",
  species: "",
  by: "lure_class",
  factor: "",
  level: "",
  depends: "",
  basis: "",
  given: "",
  worth: "",
}

/** The sentence around the words, by outcome: what stands before the species and after it. */
export const phrases: Record<
  Outcome,
  { readonly verb: string; readonly after: string; readonly label: string }
> = {
  landed_rate: { verb: "What lands more", after: "per rod-hour", label: "lands more" },
  strike_rate: { verb: "What draws more strikes of", after: "per rod-hour", label: "draws more strikes" },
  hook_up_share: { verb: "What hooks more of the strikes of", after: "", label: "hooks more of the strikes" },
  landing_share: { verb: "What lands more of the hooked", after: "", label: "lands more of the hooked" },
  any_fish: { verb: "What gives any", after: "in a rod-hour", label: "gives any fish in a rod-hour" },
  hang_up_rate: { verb: "What hangs up more", after: "per rod-hour", label: "hangs up more" },
  length_mm: { verb: "What lands longer", after: "", label: "lands longer fish" },
}

export const isOutcome = (word: string): word is Outcome => outcomes.some((outcome) => outcome === word)

export const outcomeSections: readonly Section[] = [
  { title: "", options: outcomes.map((id) => ({ id, label: phrases[id].label })) },
]

function groupedFactors(): Section[] {
  const groups: readonly (readonly [string, (id: FactorId) => boolean])[] = [
    ["What was tied on", (id) => ["lure", "rig", "presentation"].includes(factorOf(id).home)],
    [
      "How it was worked",
      (id) => ["retrieve", "cadence"].includes(factorOf(id).home) || id === "fished_depth_m",
    ],
    ["Water and sky", (id) => ["observation", "computed"].includes(factorOf(id).home)],
    ["Where, when and who", () => true],
  ]
  const taken = new Set<FactorId>()
  const sections = groups.map(([title, holds]) => {
    const ids = factorIds.filter((id) => !taken.has(id) && holds(id))
    for (const id of ids) taken.add(id)
    return { title, options: ids.map((id) => ({ id, label: factorOf(id).label.toLowerCase() })) }
  })
  return [{ title: "", options: [{ id: "all", label: "everything" }] }, ...sections]
}

/** Everything one can ask by, in the groups of the catalogue. */
export const bySections: readonly Section[] = groupedFactors()

/** The levels one can keep to, factor by factor, named in the reader's units. Ids join factor and level. */
export function whereSections(levels: Output<"questions.choices">["levels"], units: ReaderUnits): Section[] {
  return [
    { title: "", options: [{ id: "", label: "all conditions" }] },
    ...levels.flatMap(({ factor, levels: known }): Section[] => {
      if (!isFactorId(factor) || known.length === 0) return []
      const nameOf = levelNames(factor, known, units)
      const label = factorOf(factor).label.toLowerCase()
      return [
        {
          title: factorOf(factor).label,
          options: known.map((level) => ({ id: `${factor}=${level}`, label: `${label} ${nameOf(level)}` })),
        },
      ]
    }),
  ]
}

export const kindSections: readonly Section[] = [
  {
    title: "",
    options: [
      { id: "compare", label: "What" },
      { id: "steps", label: "From look to landed:" },
      { id: "patience", label: "How long to give it:" },
    ],
  },
]
export const isKind = (word: string): word is Ask["question"] =>
  ["compare", "steps", "patience"].includes(word)

export const basisSections: readonly Section[] = [
  {
    title: "",
    options: [
      { id: "", label: "as fairly as can be" },
      { id: "raw", label: "as fished" },
      { id: "adjusted", label: "other things held alike" },
      { id: "same_trip", label: "in the same trips" },
      { id: "same_stop", label: "at the same stops" },
    ],
  },
]
export const isBasis = (word: string): word is Basis => bases.some((basis) => basis === word)

/** Differences that may be worth having. */
export const worthSections: readonly Section[] = [
  {
    title: "",
    options: [
      { id: "1.1", label: "a tenth more" },
      { id: "1.25", label: "a quarter more" },
      { id: "", label: "a third more" },
      { id: "1.5", label: "half as much again" },
      { id: "2", label: "twice as much" },
      { id: "3", label: "three times as much" },
    ],
  },
]

/** Everything a comparison may depend on. */
export const dependsSections = (by: Question["by"]): Section[] => [
  { title: "", options: [{ id: "", label: "nothing else" }] },
  ...bySections.map(({ title, options }) => ({
    title,
    options: options.filter(({ id }) => id !== "all" && id !== by),
  })),
]

/** The factors named by a question's `given`; null for the usual ones. */
const givenOf = (given: string): FactorId[] | null =>
  given === "" ? null : given === "none" ? [] : given.split(",").filter(isFactorId)

/** The same as the question keeps it. */
export const givenWord = (given: readonly FactorId[] | null): string =>
  given === null ? "" : given.length === 0 ? "none" : given.join(",")

/** The question as the core takes it. */
export const askOf = ({
  kind,
  outcome,
  species,
  by,
  factor,
  level,
  depends,
  basis,
  given,
  worth,
}: Question) => ({
  question: by === "all" ? ("compare" as const) : kind,
  outcome,
  by,
  depends_on: kind !== "compare" || depends === "" || depends === by || by === "all" ? null : depends,
  basis: kind !== "compare" || basis === "" || by === "all" ? null : basis,
  given: kind !== "compare" || by === "all" ? null : (givenOf(given)?.filter((one) => one !== by) ?? null),
  species: species === "" ? [] : [species],
  ...(worth === "" ? {} : { worth: Number(worth) }),
  where: factor === "" ? [] : [{ factor, level }],
})
