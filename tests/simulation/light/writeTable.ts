// Prints the table that light.R reads: node electron/run.mjs tests/simulation/light/writeTable.ts > logbooks.csv
import { worldTable } from "../worldTable.ts"
import { lightLogbooks } from "./logbooks.ts"

process.stdout.write(worldTable(lightLogbooks()))
