import { adjusted, power, recordedByR, relativePower, sameTrip, type Told } from "./power/power.ts"
import { powerLogbooks } from "./power/logbooks.ts"
import { printOthers } from "./recovery/others.ts"
import { printRecovery } from "./recovery/recovery.ts"
import { printRawCoverage } from "./rawCoverage.ts"
import { printContrastCoverage } from "./seasons/contrastCoverage.ts"
import { printTrialErrors } from "./trialErrors.ts"

// npm run simulate -- [TABLE...] [LOGBOOKS]: the tables named (raw, contrasts, trials, power, recovery), all of them where none is; 2,000
// logbooks a kind of season unless said otherwise, and a quarter of them where each goes through the whole product.
const words = process.argv.slice(2)
const run = { seed: 20_260_501, logbooks: Number(words.find((word) => /^\d+$/.test(word)) ?? 2000) }
const whole = { ...run, logbooks: Math.ceil(run.logbooks / 4) }

const tables: Readonly<Record<string, () => void | Promise<void>>> = {
  raw: () => printRawCoverage(run),
  contrasts: () => printContrastCoverage(run),
  trials: () => printTrialErrors(run),
  power: printPower,
  recovery: async () => {
    await printRecovery(whole)
    printOthers(whole)
  },
}
const named = words.filter((word) => !/^\d+$/.test(word))
for (const name of named.length > 0 ? named : Object.keys(tables)) {
  const print = tables[name]
  if (print === undefined)
    throw new Error(`There is no table ${name}: they are ${Object.keys(tables).join(", ")}.`)
  await print()
  console.log("")
}

/** How often 200 recorded logbooks of 60 trips, in which a level gives 1.6 times as much, show it, beside R's own fits. */
function printPower(): void {
  const logbooks = powerLogbooks()
  const { r, glmmTMB, logbooks: byR } = recordedByR()
  const line = (basis: string, own: readonly Told[], theirs: readonly Told[]): void => {
    const { ratio, error } = relativePower(own, theirs)
    console.log(
      `${basis}: ${(100 * power(own)).toFixed(1)}%, R ${(100 * power(theirs)).toFixed(1)}%, ${ratio.toFixed(3)} of it (Monte Carlo error ${error.toFixed(3)})`,
    )
  }
  console.log(
    `How often a level that gives 1.6 times as much is told from two others, in 200 logbooks of 60 trips; R ${r}:`,
  )
  line(
    `adjusted (R: glmmTMB ${glmmTMB}, Wald z)`,
    logbooks.map(adjusted),
    byR.map((own) => own.adjusted),
  )
  line(
    "same trip (R: quasi-Poisson, an effect a trip)",
    logbooks.map(sameTrip),
    byR.map((own) => own.same_trip),
  )
}
