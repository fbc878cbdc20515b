import type { Handlers } from "../../shared/api.ts"
import { entities } from "../../shared/entities.ts"
import type { SpeciesChange } from "../../shared/fish.ts"
import { ProblemError } from "../../shared/problems.ts"
import { ownLaw, sayWeights, weightBy } from "../day/ownWeights.ts"
import type { Logbook } from "../store/logbook.ts"
import { nameAct } from "../store/nameAct.ts"
import { add, type OpenChange, put, rowById } from "../store/put.ts"
import { isNameTaken } from "../store/read/names.ts"
import { speciesWithUse, weighedFish } from "../store/read/species.ts"
import { requireCodes } from "./codes.ts"
import type { Queue } from "./queue.ts"
import { settingsIn } from "./settings.ts"
import { today } from "./today.ts"

type Area = Pick<Handlers, "species.list" | "species.save" | "species.weight">

/** Species: codes, how they are measured, the user's own limits with their date, and weights by his own weighed fish. */
export const speciesHandlers = (book: Logbook, queue: Queue, change: Queue): Area => ({
  "species.list": () =>
    queue(async () =>
      book.read((db) => {
        const { units } = settingsIn(db)
        const weighed = Map.groupBy(weighedFish(db), ({ species_id }) => species_id)
        return speciesWithUse(db).map((species) => {
          const fish = weighed.get(species.id) ?? []
          const weights = ownLaw(fish)?.weights ?? null
          return { ...species, weighed: fish.length, weights, weights_said: sayWeights(fish, weights, units) }
        })
      }),
    ),
  "species.save": (wanted) =>
    change(async () => book.change((open) => ({ id: saveSpecies(open, wanted), act: open.batch }))),
  "species.weight": ({ species, length_mm }) =>
    queue(async () =>
      book.read((db) => {
        const fish = weighedFish(db).filter(({ species_id }) => species_id === species)
        return { estimated: true as const, ...weightBy(fish, settingsIn(db).units)(length_mm) }
      }),
    ),
})

function saveSpecies(open: OpenChange, { id, ...wanted }: SpeciesChange): string {
  const before = id === undefined ? null : rowById(open.db, "species", id)
  if (id !== undefined && before === null)
    throw new ProblemError("bad_input", "That species is no longer in this logbook.", { species: id })
  const row = withLimitDate(open, { ...before, ...wanted }, before)
  const { name } = row
  if (name === undefined) throw new ProblemError("bad_input", "A new species needs a name.", {})
  if (name.toLowerCase() !== before?.name.toLowerCase() && isNameTaken(open.db, "species", name))
    throw new ProblemError("bad_input", `There is a species ${name} already.`, { name })
  const [least = null, most = null] = [row.own_min_length_mm, row.own_max_length_mm]
  if (least !== null && most !== null && most < least)
    throw new ProblemError("bad_input", "The longest length of your own note is below the shortest.", {})
  requireCodes(open, id ?? null, { code: wanted.code ?? null, kind: "species" })
  nameAct(open, `species ${name} ${before === null ? "made" : "changed"}`)
  if (before === null) return add(open, "species", { ...row, name })
  return put(open, "species", entities.species.parse({ ...row, name })).id
}

type Typed = Omit<SpeciesChange, "id">
const limits = ["own_min_length_mm", "own_max_length_mm", "own_bag"] as const

/** A note of limits bears the day on which it was written, where no other is said. */
function withLimitDate(open: OpenChange, row: Typed, before: Typed | null): Typed {
  const noted = limits.some((column) => (row[column] ?? null) !== null)
  const changed = limits.some((column) => (row[column] ?? null) !== (before?.[column] ?? null))
  const dated = (row.limit_date ?? null) !== (before?.limit_date ?? null)
  if (!noted || !changed || dated) return row
  return { ...row, limit_date: today(settingsIn(open.db).home_zone ?? "UTC") }
}
