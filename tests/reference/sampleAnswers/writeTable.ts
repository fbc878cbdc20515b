// Prints the table that sample.R reads: node electron/run.mjs tests/reference/sampleAnswers/writeTable.ts > sample.csv
import { sampleFacts, sampleTable } from "./sampleTable.ts"

process.stdout.write(sampleTable(await sampleFacts()))
