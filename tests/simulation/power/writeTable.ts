// Prints the table that power.R reads: node electron/run.mjs tests/simulation/power/writeTable.ts > logbooks.csv
import { powerLogbooks, powerTable } from "./logbooks.ts"

process.stdout.write(powerTable(powerLogbooks()))
