import { factorIds, factorOf, type FactorId } from "../../../shared/factors.ts"
import { unitIds, units } from "../../../shared/units.ts"
import type { Option, Section } from "../../parts/Choice.tsx"

const said = (ids: readonly string[]): Option[] =>
  ids.map((id) => ({ id, label: id.replace("hook_ups", "hook-ups").replaceAll("_", " ") }))

const outing = ["trip", "stop", "date", "start", "end", "minutes", "hours", "rod_hours", "rods"]
const named = ["angler", "spot", "species", "target", "notes"]
const counts = ["strikes", "hook_ups", "landed", "follows", "hang_ups", "lures_lost"]

/** What a column of a table can be read as, in the words that a mapping takes; measured factors once for each unit. What
 *  follows from other columns is no column of its own. */
export const targets: readonly Section[] = [
  {
    title: "",
    options: [
      { id: "", label: "as understood" },
      { id: "ignore", label: "leave it out" },
    ],
  },
  { title: "Trip and stint", options: said([...outing, ...named]) },
  { title: "What came of it", options: said(counts) },
  {
    title: "Factors",
    options: factorIds
      .filter((id) => factorOf(id).home !== "derived" && ![...outing, ...named].includes(id))
      .flatMap(optionsOf),
  },
]

function optionsOf(id: FactorId): Option[] {
  const factor = factorOf(id)
  const label = factor.label.toLowerCase()
  if (factor.kind === "categorical" || factor.unit === null) return [{ id, label }]
  const stem = id.slice(0, -factor.unit.length - 1)
  const { dimension } = units[factor.unit]
  const fitting = unitIds.filter((unit) => units[unit].dimension === dimension)
  if (fitting.length === 1) return [{ id, label }]
  return fitting.map((unit) => ({ id: `${stem} (${unit})`, label: `${label}, ${units[unit].symbol}` }))
}
