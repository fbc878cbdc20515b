import { printRawCoverage } from "./rawCoverage.ts"
import { printContrastCoverage } from "./seasons/contrastCoverage.ts"

// npm run simulate [LOGBOOKS]: both tables; 2,000 logbooks a kind of season unless said otherwise.
const run = { seed: 20_260_501, logbooks: Number(process.argv[2] ?? 2000) }
printRawCoverage(run)
console.log("")
await printContrastCoverage(run)
