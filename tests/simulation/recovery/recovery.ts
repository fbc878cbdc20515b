import { onAllCores } from "../onAllCores.ts"
import { type Run, monteCarloError, seconds } from "../run.ts"
import { VIEWS } from "./judge.ts"
import { KINDS } from "./kinds.ts"
import type { Tallies, Tally } from "./tally.ts"

const heading = ({ seed, logbooks }: Run): string[] => [
  "Whether the product finds what is in a logbook and is not fooled by what is not: made-up logbooks with known truth, asked which of",
  "three lure classes lands more.",
  "",
  `Each row is ${logbooks.toLocaleString("en")} logbooks of one kind (seed ${seed}), with three contrasts each. Unless the row says otherwise 60 trips of`,
  "nine stints, two anglers of whom one lands 1.3 times as much, first light 1.5 times as good as day, days that differ by a",
  "log-normal spread of sd 0.6, fish in clumps (theta 2), 0.8 an hour, season, tide, spot and order in the stop with effects of",
  "their own, and three classes alike.",
  "",
  "Columns, for each view: coverage of its 95% intervals (percent of the contrasts answered), contrasts whose interval leaves 1",
  "out (percent of those answered: false findings where the classes are alike), contrasts answered (percent).",
  `Monte Carlo error of a coverage of 95%: ${monteCarloError(95, logbooks)} at most. "misses" marks a headline that misses its aim by more than two such errors:`,
  "false findings in at most 6% of contrasts where nothing differs, coverage 93-97% where the logbook would mislead. A favourite",
  "given more patience bends every comparison; the product says so and which way, and no figure is promised.",
  "",
]

const width = 20
type Message = { readonly at: number; readonly tallies: Tallies }

/** Prints what each kind of logbook came to, on all cores. */
export async function printRecovery(run: Run): Promise<void> {
  const began = performance.now()
  console.log(heading(run).join("\n"))
  console.log(`${"".padEnd(38)}${VIEWS.map((view) => view.replace("_", " ").padEnd(width)).join("")}`)
  const lines = new Map<number, string>()
  let printed = 0
  await onAllCores<Message>(new URL("./worker.ts", import.meta.url), run, KINDS.length, ({ at, tallies }) => {
    lines.set(at, line(at, tallies, run))
    for (let next = lines.get(printed); next !== undefined; next = lines.get(++printed)) console.log(next)
  })
  console.log(`Took ${seconds(began)} seconds.`)
}

const percent = (part: number, of: number): string => (of === 0 ? "-" : ((100 * part) / of).toFixed(1))

function line(at: number, tallies: Tallies, { logbooks }: Run): string {
  const kind = KINDS[at]
  if (kind === undefined) throw new RangeError(`There is no kind of logbook ${at}.`)
  const cells = VIEWS.map((view) => {
    const { answered, covered, found } = tallies[view]
    const figures = [
      percent(covered, answered),
      percent(found, answered),
      percent(answered, 3 * logbooks).replace(".0", ""),
    ]
    return figures
      .map((figure) => figure.padStart(5))
      .join(" ")
      .padEnd(width)
  })
  return `${kind.name.padEnd(38)}${cells.join("")}${misses(kind.aim, tallies.headline) ? "misses" : ""}`.trimEnd()
}

/** What a headline is held to: false findings where nothing differs, coverage where the logbook would mislead or something is planted. */
const aims = { even: 0.06, least: 0.93, most: 0.97 }

/** Whether a headline misses its aim by more than two Monte Carlo errors, the contrasts of a logbook taken as one. */
export function misses(aim: (typeof KINDS)[number]["aim"], { answered, covered, found }: Tally): boolean {
  const beyond = (share: number, limit: number): number =>
    (share - limit) / Math.sqrt((limit * (1 - limit)) / (answered / 3))
  switch (aim) {
    case "even":
      return beyond(found / answered, aims.even) > 2
    case "misled":
      return beyond(covered / answered, aims.least) < -2 || beyond(covered / answered, aims.most) > 2
    case "planted":
      return beyond(covered / answered, aims.least) < -2
    case "told":
      return false
  }
}
