// npm start: makes a small logbook from real creel interviews and answers a question with it, so that a newcomer sees
// the whole path from a table to an honest answer before bringing a table in.
import { mkdtempSync } from "node:fs"
import { homedir, tmpdir } from "node:os"
import { join, relative } from "node:path"
import { fileURLToPath } from "node:url"
import { runCommand } from "../core/cli/command.ts"
import { processTerminal, type Terminal } from "../core/cli/terminal.ts"

const table = fileURLToPath(new URL("../tests/data/kokanee-creel-2014/interviews.csv", import.meta.url))
const species = {
  KO: "kokanee",
  CT: "cutthroat trout",
  RB: "rainbow trout",
  BT: "bull trout",
  LT: "lake trout",
}
const map = [
  "Year+Month+Day=date",
  "RodHours=rod_hours",
  "Gear=lure_class",
  ...Object.entries({ ...species, Other: "other" }).map(([code, name]) => `${code}Catch=landed:${name}`),
]

const terminal = processTerminal()
const quiet: Terminal = { ...terminal, out: () => undefined }

const folder = mkdtempSync(join(tmpdir(), "stintbook-"))
const file = join(folder, "creel.stintbook")
const shown = file.startsWith(homedir()) ? `~/${relative(homedir(), file)}` : file

terminal.out(
  `Making a small logbook of 123 real interviews with fishing parties at a trout and kokanee lake, 2014:\n${shown}\n`,
)
const steps = [
  () => runCommand(["new", file], quiet),
  () => runCommand(["import", file, table, ...map.flatMap((one) => ["--map", one])], quiet),
  () => runCommand(["ask", file, "--outcome", "landed_rate", "--by", "lure_class"], terminal),
]
for (const step of steps) {
  process.exitCode = await step()
  if (process.exitCode !== 0) process.exit()
}
terminal.out(`
What next
  Ask the same logbook something else:
    npm run -s stintbook -- ask ${shown} --outcome landed_rate --by month --species kokanee
  Start your own, and see what a table of yours would make before anything is stored:
    npm run -s stintbook -- new my.stintbook
    npm run -s stintbook -- import my.stintbook my-trips.csv --dry-run
  All commands: npm run -s stintbook -- help`)
