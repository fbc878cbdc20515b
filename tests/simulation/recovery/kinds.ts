import type { World } from "./world.ts"

const EVEN: World = {
  trips: 60,
  spread: 0.6,
  theta: 2,
  rate: 0.8,
  lures: [1, 1, 1],
  lureByTrip: 0,
  anglers: 2,
  bestAngler: 1.3,
  firstLight: 1.5,
  choice: "mixed",
  redLetter: 1,
  pauseByCold: 0,
}

/** Kinds of logbook, each with what sets it apart: no lure class gives more than another unless it is said. */
export const KINDS: readonly {
  readonly name: string
  readonly aim: "even" | "misled" | "planted" | "told"
  readonly world: World
}[] = [
  { name: "nothing differs", aim: "even", world: EVEN },
  { name: "20 trips", aim: "even", world: { ...EVEN, trips: 20 } },
  { name: "150 trips", aim: "even", world: { ...EVEN, trips: 150 } },
  { name: "one angler, days alike", aim: "even", world: { ...EVEN, anglers: 1, spread: 0.2, theta: 5 } },
  { name: "days far apart, fish in clumps", aim: "even", world: { ...EVEN, spread: 1, theta: 0.8 } },
  { name: "scarce fish", aim: "even", world: { ...EVEN, rate: 0.25 } },
  { name: "a lure's luck differs by day", aim: "even", world: { ...EVEN, lureByTrip: 0.5 } },
  { name: "a lure a trip", aim: "even", world: { ...EVEN, choice: "a lure a trip" } },
  { name: "changed when dry", aim: "even", world: { ...EVEN, choice: "dry" } },
  {
    name: "thrown at first light",
    aim: "misled",
    world: { ...EVEN, choice: "at first light", firstLight: 2.5 },
  },
  {
    name: "the better angler's favourite",
    aim: "misled",
    world: { ...EVEN, choice: "favourite", bestAngler: 1.8 },
  },
  { name: "one red-letter day", aim: "misled", world: { ...EVEN, redLetter: 12 } },
  {
    name: "a favourite given more patience",
    aim: "told",
    world: { ...EVEN, choice: "dry, favourite" },
  },
  { name: "the first gives 1.6 times as much", aim: "planted", world: { ...EVEN, lures: [1.6, 1, 1] } },
]

/** In cold water long pauses give more, in warm water short ones. */
export const PAUSES_LENGTHEN: World = { ...EVEN, pauseByCold: 0.02 }
export const NOTHING_DIFFERS = EVEN
