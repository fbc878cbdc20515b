// npm start: makes the sample logbook and asks it the first questions, so that a newcomer sees the whole path from a day on
// the water to an honest answer before bringing a record of his own in.
import { mkdtempSync } from "node:fs"
import { homedir, tmpdir } from "node:os"
import { join, relative } from "node:path"
import { runCommand } from "../core/cli/command.ts"
import { processTerminal } from "../core/cli/terminal.ts"

const terminal = processTerminal()
const folder = mkdtempSync(join(tmpdir(), "stintbook-"))
const file = join(folder, "sample.stintbook")
const shown = file.startsWith(homedir()) ? `~/${relative(homedir(), file)}` : file

const questions = [
  ["What draws strikes?", "--outcome", "strike_rate", "--by", "lure_class"],
  ["What keeps a fish that struck?", "--outcome", "hook_up_share", "--by", "lure_class"],
  ["When does the tide give fish?", "--outcome", "landed_rate", "--by", "tide_part"],
] as const

async function run(...command: string[]): Promise<void> {
  const status = await runCommand(command, terminal)
  if (status !== 0) process.exit(status)
}

await run("demo", file)
for (const [heading, ...ask] of questions) {
  terminal.out(`\n== ${heading}\n`)
  await run("ask", file, ...ask)
}
terminal.out(`
What next
  Ask the same logbook something else, or what is really true in it:
    npm run -s stintbook -- ask ${shown} --outcome strike_rate --by light
    npm run -s stintbook -- demo other.stintbook --seed 11 --truth truth.json
  See what water and sky do at a place and time:
    npm run -s stintbook -- conditions --lat 31.39 --lon -81.288 --at 2026-05-15T10:10:00Z
  Start your own, and see what a table of yours would make before anything is stored:
    npm run -s stintbook -- new my.stintbook
    npm run -s stintbook -- import my.stintbook my-trips.csv --dry-run
  All commands: npm run -s stintbook -- help`)
