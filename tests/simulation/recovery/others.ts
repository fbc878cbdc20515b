import { stream } from "../../../core/stats/random.ts"
import { power, recordedByR, relativePower } from "../power/power.ts"
import { powerLogbooks } from "../power/logbooks.ts"
import { type Run, monteCarloError, seconds } from "../run.ts"
import { NOTHING_DIFFERS, PAUSES_LENGTHEN } from "./kinds.ts"
import { dependsOnWater, lookThroughWorld } from "./lookingThrough.ts"
import { askedOf } from "./power.ts"

const percent = (part: number, of: number): string => `${((100 * part) / of).toFixed(1)}%`

/** Prints what looking through everything came to, whether a planted dependence is found, and the power beside R's. */
export function printOthers({ seed, logbooks }: Run): void {
  const began = performance.now()
  const looked = lookThroughWorld(stream(seed, "look through"), NOTHING_DIFFERS, logbooks)
  console.log(
    `Looking through everything at q = 0.1, ${looked.logbooks} logbooks in which light, water, tide, season, spot, angler and order in the stop have an effect and 17 factors have none: ${looked.findings} findings, ${looked.falseFindings} of them false; mean share of false ones ${percent(looked.falseShare, 1)} (aim: 10% at most; Monte Carlo error ${monteCarloError(100 * looked.falseShare, logbooks)}); light found in ${percent(looked.lightFound, logbooks)}.`,
  )
  for (const [what, world] of [
    ["longer pauses pay in cold water", PAUSES_LENGTHEN],
    ["the pause makes no difference", NOTHING_DIFFERS],
  ] as const) {
    const { found, answered } = dependsOnWater(stream(seed, what), world, logbooks)
    console.log(
      `Pause by water temperature where ${what}: said to depend in ${percent(found, answered)} of ${answered} logbooks answered.`,
    )
  }
  const { r, glmmTMB, logbooks: byR } = recordedByR()
  const own = powerLogbooks().map(askedOf)
  const theirs = byR.map(({ adjusted }) => adjusted)
  const { ratio, error } = relativePower(own, theirs)
  console.log(
    `A level that gives 1.6 times as much, told from two others in 200 logbooks of 60 trips, asked of the whole product: ${percent(power(own), 1)}; R ${r}, glmmTMB ${glmmTMB}, Wald z: ${percent(power(theirs), 1)}; ${ratio.toFixed(3)} of it (Monte Carlo error ${error.toFixed(3)}, aim 0.95).`,
  )
  console.log(`Took ${seconds(began)} seconds.`)
}
