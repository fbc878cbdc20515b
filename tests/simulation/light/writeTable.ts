// Prints the table that light.R reads: node electron/run.mjs tests/simulation/light/writeTable.ts > logbooks.csv
import { lightLogbooks, lightTable } from "./logbooks.ts"

process.stdout.write(lightTable(lightLogbooks()))
