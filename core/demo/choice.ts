import type { Light } from "../conditions/light.ts"
import { below, type Random } from "../stats/random.ts"
import { chance, pick, whole } from "./draw.ts"
import type { Patience } from "./fishing.ts"
import type { Season } from "./planted.ts"
import type { Angler, Group, Spot } from "./scenario.ts"
import { spots } from "./scenario.ts"
import type { LureClass } from "./lures.ts"
import { type Presentation, presentations } from "./presentations.ts"

/** What an angler at a spot has before him when he ties on. */
export type Situation = {
  readonly light: Light
  readonly firstAtStop: boolean
  readonly redLetter: boolean
  readonly previous: Presentation | null
}

/** Of the stints, those in which the angler ties on what he believes in. */
const favouriteShare = 0.4
/** The walker is thrown at first light only, and then by half. */
const walkerAtFirstLight = 0.55
/** The searching lure, the slow-sinking stick, opens this part of the stops and is hardly used later. */
const searchingFirst = 0.3
/** On the red-letter day the spoon happened to be tied on. */
const spoonOnRedLetterDay = 0.85

const classShares: readonly (readonly [LureClass, number])[] = [
  ["soft plastic on a jig head", 0.6],
  ["popping-cork rig", 0.24],
  ["suspending twitch bait", 0.12],
  ["slow-sinking twitch bait", 0.02],
  ["spoon", 0.02],
]

/**
 * What is tied on. Within a class every presentation is as likely as the others, so that a jig's colour, head weight and
 * retrieve go with nothing else; between classes light, turn at the stop and the angler's belief decide.
 */
export function chooseWhat(random: Random, anglers: readonly Angler[], situation: Situation): Presentation {
  if (situation.redLetter && chance(random, spoonOnRedLetterDay)) return oneOf(random, "spoon")
  for (;;) {
    const chosen = chooseOnce(random, anglers, situation)
    if (chosen !== situation.previous) return chosen
  }
}

function chooseOnce(random: Random, anglers: readonly Angler[], situation: Situation): Presentation {
  if (situation.light === "first light" && chance(random, walkerAtFirstLight))
    return oneOf(random, "topwater walker")
  if (situation.firstAtStop && chance(random, searchingFirst))
    return oneOf(random, "slow-sinking twitch bait")
  const favourite = presentations.find(({ key }) => key === anglers[0]?.favourite)
  if (favourite !== undefined && chance(random, favouriteShare)) return favourite
  return oneOf(random, pick(random, classShares, ([, share]) => share)[0])
}

const oneOf = (random: Random, className: LureClass): Presentation =>
  pick(
    random,
    presentations.filter((presentation) => presentation.className === className),
  )

/** Seconds of pause tried; longer ones a little more often in cold water. Null for lures that are never stopped. */
export function choosePause(random: Random, presentation: Presentation, waterTempC: number): number | null {
  if (presentation.pause_s === null) return null
  const lean = (20 - waterTempC) / 25
  return pick(random, pauses, (pause) => Math.exp(lean * Math.log(pause / 3.5)))
}
const pauses = [1, 2, 3, 4, 6, 10]

/** A favourite is fished longer, and half as long again without a bite, as anything else. */
export function choosePatience(random: Random, anglers: readonly Angler[], what: Presentation): Patience {
  if (anglers[0]?.favourite === what.key) return { most: whole(random, 54, 60), dry: whole(random, 46, 58) }
  return { most: whole(random, 40, 60), dry: whole(random, 26, 34) }
}

/** The next spot: another than the last, where the fish sought are thought to be; in fall the inlet for grown red drum. */
export function chooseWhere(random: Random, target: Group, season: Season, previous: Spot | null): Spot {
  const grown = season === "fall" && target === "red drum"
  return pick(random, spots, (spot) => {
    if (spot === previous) return 0
    return grown && spot.structure === "inlet rocks" ? inletInFall : liking[target][spot.structure]
  })
}
const inletInFall = 6

const liking: Readonly<Record<Group, Readonly<Record<Spot["structure"], number>>>> = {
  "spotted seatrout": {
    "creek mouth": 3,
    drain: 1,
    "shell rake": 2,
    "cordgrass edge": 1,
    dock: 1.5,
    "inlet rocks": 2,
  },
  "red drum": {
    "creek mouth": 1,
    drain: 2,
    "shell rake": 2.5,
    "cordgrass edge": 2,
    dock: 1,
    "inlet rocks": 2,
  },
  "southern flounder": {
    "creek mouth": 3,
    drain: 3,
    "shell rake": 1,
    "cordgrass edge": 0.5,
    dock: 1,
    "inlet rocks": 1,
  },
  others: { "creek mouth": 1, drain: 1, "shell rake": 1, "cordgrass edge": 1, dock: 1, "inlet rocks": 1 },
}

/** Minutes a stop is meant to last. */
export const chooseStay = (random: Random): number => whole(random, 60, 130)

/** Minutes from one spot to the next. */
export const chooseRun = (random: Random): number => 6 + below(random, 14)
