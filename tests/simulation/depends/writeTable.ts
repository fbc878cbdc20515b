// Prints the table that depends.R reads: node electron/run.mjs tests/simulation/depends/writeTable.ts > logbooks.csv
import { worldTable } from "../worldTable.ts"
import { pauseLogbooks } from "./logbooks.ts"

process.stdout.write(worldTable(pauseLogbooks()))
