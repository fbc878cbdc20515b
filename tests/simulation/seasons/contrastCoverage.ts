import { onAllCores } from "../onAllCores.ts"
import { type Run, monteCarloError, seconds } from "../run.ts"
import { SEASONS } from "./cells.ts"
import { BASES, type Basis } from "./compare.ts"
import type { Counted } from "./tally.ts"

const heading = ({ seed, logbooks }: Run): string[] => [
  "How often 95% intervals of a ratio between two levels hold the truth, on each basis, and how often a logbook shows a false",
  "finding.",
  "",
  `Each row is ${logbooks.toLocaleString("en")} logbooks drawn from one kind of season (seed ${seed}), with three levels and so three contrasts each. Unless`,
  "the row says otherwise, trips differ by a log-normal spread of sd 0.6, have 4 to 8 stints of 15 to 75 minutes with a level",
  "drawn for each, events clump within a stint (negative binomial, theta 2), an ordinary trip gives 0.8 an hour, and the three",
  "levels are alike. Changed when dry: a level is changed after 24 minutes without event; a favourite is given 45.",
  "",
  "Columns, for each basis: contrasts answered (percent), coverage (percent), logbooks in which at least one of three intervals",
  "leaves the truth out (percent), median width of the interval on the log scale. Adjusted: negative binomial with trip",
  "intercepts, the wider of model and jackknife. Same trip: conditional Poisson with the delete-trip jackknife.",
  `The Monte Carlo error of a coverage of 95% is ${monteCarloError(95, 3 * logbooks)} were contrasts independent, ${monteCarloError(95, logbooks)} at most; of 15% of logbooks ${monteCarloError(15, logbooks)}.`,
  '"low", "wide", "false" mark what misses its aim by more than two such errors: coverage 94-96% at 60 trips and more, 93-97 at',
  "20, at least 93 at 8; false findings in at most 15% of logbooks.",
  "",
]

type Message = { at: number; counted: Record<Basis, Counted> }

/** Prints the coverage of contrasts, a line a kind of season, on all cores. */
export async function printContrastCoverage(run: Run): Promise<void> {
  const began = performance.now()
  console.log(heading(run).join("\n"))
  console.log(`trips  ${"season".padEnd(30)}${BASES.map((basis) => basis.padEnd(34)).join("")}`)
  const results = new Map<number, Record<Basis, Counted>>()
  let printed = 0
  const program = new URL("./worker.ts", import.meta.url)
  await onAllCores<Message>(program, run, SEASONS.length, ({ at, counted }) => {
    results.set(at, counted)
    for (let next = results.get(printed); next !== undefined; next = results.get(printed)) {
      console.log(line(printed, next, run))
      printed++
    }
  })
  console.log("")
  for (const basis of BASES) {
    const marks = SEASONS.map((_, at) => {
      const counted = results.get(at)?.[basis]
      return counted === undefined ? "" : marksOf(counted, SEASONS[at]?.season.trips ?? 0, run.logbooks)
    })
    const counts = ["low", "wide", "false"].map(
      (word) => `${marks.filter((mark) => mark.includes(word)).length} marked ${word}`,
    )
    console.log(`${basis}: of ${SEASONS.length} kinds of season ${counts.join(", ")}.`)
  }
  console.log(`Took ${seconds(began)} seconds.`)
}

function line(at: number, counted: Record<Basis, Counted>, { logbooks }: Run): string {
  const { name, season } = SEASONS[at] ?? { name: "", season: { trips: 0 } }
  const cells = BASES.map((basis) => {
    const { answered, covered, falseFindings, width } = counted[basis]
    if (answered === 0) return "no answer".padEnd(34)
    const figures = [
      ((100 * answered) / (3 * logbooks)).toFixed(0).padStart(4),
      ((100 * covered) / answered).toFixed(1).padStart(6),
      ((100 * falseFindings) / logbooks).toFixed(1).padStart(5),
      width.toFixed(2).padStart(6),
    ]
    return `${figures.join(" ")} ${marksOf(counted[basis], season.trips, logbooks)}`.padEnd(34)
  })
  return `${String(season.trips).padStart(5)}  ${name.padEnd(30)}${cells.join("")}`.trimEnd()
}

/** The aims: coverage at 60 trips and more, at 20, and at 8. */
function aims(trips: number): [number, number] {
  if (trips >= 60) return [0.94, 0.96]
  return trips >= 20 ? [0.93, 0.97] : [0.93, 1]
}

function marksOf({ answered, covered, falseFindings }: Counted, trips: number, logbooks: number): string {
  if (answered === 0) return ""
  const share = covered / answered
  const error = Math.sqrt((share * (1 - share)) / (answered / 3))
  const [least, most] = aims(trips)
  const found = falseFindings / logbooks
  const words = [
    share + 2 * error < least ? "low" : "",
    share - 2 * error > most ? "wide" : "",
    found - 2 * Math.sqrt((found * (1 - found)) / logbooks) > 0.15 ? "false" : "",
  ]
  return words.filter((word) => word !== "").join(", ")
}
